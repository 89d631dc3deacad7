import type { GroundFeatureKind, ZoneKind } from '@underbough/model'
import { plainWords } from './header-words.ts'

type Tags = Record<string, unknown>

/** Tags of open map data, most telling first: key, values, kind. Tag words: OpenStreetMap's own documentation (ODbL data). */
const zoneTags: [key: string, values: RegExp, kind: ZoneKind][] = [
  ['building', /^(?!no$)./, 'building'],
  ['highway', /^(footway|path|steps|pedestrian|cycleway|bridleway|corridor|platform)$/, 'footpath'],
  ['highway', /./, 'road'],
  ['railway', /^(?!abandoned|razed)./, 'road'],
  [
    'leisure',
    /^(playground|pitch|swimming_pool|stadium|sports_centre|track|fitness_station|water_park)$/,
    'play',
  ],
  ['leisure', /^(bandstand|picnic_table|outdoor_seating|marina)$/, 'seating'],
  ['amenity', /^(parking|parking_space|bicycle_parking|motorcycle_parking)$/, 'parking'],
  ['amenity', /^(bench|restaurant|cafe|bar|biergarten|shelter|bbq|food_court|ice_cream)$/, 'seating'],
  ['amenity', /^swimming_pool$/, 'play'],
  [
    'amenity',
    /^(school|kindergarten|college|university|hospital|clinic|place_of_worship|public_building|townhall|library|casino|theatre|cinema|toilets|police|fire_station)$/,
    'building',
  ],
  ['tourism', /^picnic_site$/, 'seating'],
  ['tourism', /^(hotel|museum|hostel|guest_house)$/, 'building'],
  ['power', /./, 'utility'],
  ['man_made', /^(pipeline|mast|tower|pumping_station|street_cabinet)$/, 'utility'],
]

/** Words for zones in English, German, French, Spanish and Dutch. */
const zoneWords: [RegExp, ZoneKind][] = [
  [
    /\b(play|playground|pitch|sports?|spielplatz|spielflache|bolzplatz|aire de jeux|juegos|speel\w*)\b/,
    'play',
  ],
  [/\b(parking|car park|parkplatz|stellplatz|stationnement|aparcamiento|parkeer\w*)\b/, 'parking'],
  [
    /\b(foot ?path|footway|path|pedestrian|pavement|sidewalk|steps|gehweg|fussweg|radweg|sentier|trottoir|chemin|acera|sendero|voetpad|stoep|fietspad)\b/,
    'footpath',
  ],
  [
    /\b(road|street|carriageway|highway|strasse|fahrbahn|rue|route|chaussee|calle|carretera|straat|rijbaan)\b/,
    'road',
  ],
  [
    /\b(seat(ing)?|bench(es)?|gazebo|bandstand|picnic|sitzplatz|banke?|pavillon|bancs?|kiosque|bancos?|zitbank(en)?|prieel)\b/,
    'seating',
  ],
  [
    /\b(utility|power|power line|substation|pipeline|leitung|freileitung|ligne electrique|linea electrica|leiding|hoogspanning)\b/,
    'utility',
  ],
  [
    /\b(building|house|school|gebaude|haus|schule|batiment|maison|ecole|edificio|casa|escuela|gebouw|huis)\b/,
    'building',
  ],
]

const groundTags: [key: string, values: RegExp, kind: GroundFeatureKind][] = [
  ['building', /^(?!no$)./, 'building'],
  ['highway', /^(footway|path|steps|pedestrian|cycleway|bridleway|corridor|track)$/, 'path'],
  ['highway', /./, 'road'],
  ['waterway', /./, 'water'],
  ['natural', /^(water|bay|coastline|strait|wetland)$/, 'water'],
  ['leisure', /^(swimming_pool|marina)$/, 'water'],
  ['leisure', /./, 'green'],
  ['natural', /./, 'green'],
  ['landuse', /^(basin|reservoir)$/, 'water'],
  [
    'landuse',
    /^(grass|forest|meadow|cemetery|allotments|orchard|recreation_ground|village_green|flowerbed|vineyard)$/,
    'green',
  ],
  ['barrier', /./, 'fence'],
  ['landuse', /./, 'land'],
  ['place', /./, 'land'],
]

const groundWords: [RegExp, GroundFeatureKind][] = [
  [
    /\b(foot ?path|footway|path|pedestrian|steps|weg|gehweg|sentier|chemin|sendero|camino|pad|voetpad)\b/,
    'path',
  ],
  [/\b(road|street|strasse|fahrbahn|rue|route|calle|carretera|straat)\b/, 'road'],
  [/\b(water|pond|lake|river|sea|gewasser|teich|see|eau|etang|agua|estanque|vijver)\b/, 'water'],
  [
    /\b(green|park|grass|lawn|garden|wood|grun\w*|rasen|wiese|vert|pelouse|verde|cesped|groen|gras)\b/,
    'green',
  ],
  [/\b(fence|wall|hedge|zaun|mauer|cloture|mur|valla|muro|hek|muur)\b/, 'fence'],
  [/\b(building|house|gebaude|haus|batiment|edificio|gebouw)\b/, 'building'],
  [/\b(land|island|insel|terre|tierra|isla)\b/, 'land'],
]

/** Kind of a zone: from the column a person named, else from common tags; `null` when neither tells. */
export const zoneKindOf = (tags: Tags, column: string | null) => kindOf(tags, column, zoneTags, zoneWords)

/** Kind of a ground feature, likewise. */
export const groundKindOf = (tags: Tags, column: string | null) =>
  kindOf(tags, column, groundTags, groundWords)

function kindOf<K>(
  tags: Tags,
  column: string | null,
  known: [string, RegExp, K][],
  words: [RegExp, K][],
): K | null {
  const value = (key: string) => (typeof tags[key] === 'string' ? (tags[key] as string).trim() : '')
  if (column !== null && value(column) !== '') {
    const found = words.find(([pattern]) => pattern.test(plainWords(value(column))))
    if (found) return found[1]
  }
  const tagged = known.find(([key, values]) => value(key) !== '' && values.test(value(key)))
  return tagged ? tagged[2] : null
}
