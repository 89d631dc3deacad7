import type { TreeField } from '@underbough/model'

/** Lower-case words without accents, underscores or camel humps: `Kronendurchmesser_m` → `kronendurchmesser m`. */
export function plainWords(text: string): string {
  return text
    .replace(/ß/g, 'ss')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')
    .trim()
}

/**
 * Words in headers by what they mean: English, German, French, Spanish, Dutch. The first match wins, so the narrower
 * words stand first (a crown's diameter before a diameter).
 */
export const headerWords: [field: TreeField, pattern: RegExp][] = [
  [
    'geometry',
    /^(the geom|geom(etry|etrie|etria)?|wkt|shape|geo (shape|point)( 2d)?|coordinates|coordonnees|coordenadas)$/,
  ],
  [
    'x',
    /^(x|lon|lng|long|longitude|longitud|lengtegraad|langengrad|laengengrad|geogr lange|easting|east|rechtswert|ostwert|este|(utm|rd|point|coord|coordinate|x)? ?(x|east)( coord(inate)?)?|coord(onnee|enada) x)$/,
  ],
  [
    'y',
    /^(y|lat|latitude|latitud|breedtegraad|breitengrad|geogr breite|northing|north|hochwert|nordwert|norte|(utm|rd|point|coord|coordinate|y)? ?(y|north)( coord(inate)?)?|coord(onnee|enada) y)$/,
  ],
  [
    'crownBaseHeight',
    /(crown|canopy) base|kronenansatz|base (du )?houppier|(altura|base) (de )?(la )?base (de )?(la )?copa|kroonbasis|takvrije|clear stem/,
  ],
  [
    'crownRadius',
    /(crown|canopy) radius|kronenradius|rayon (du |de la )?(houppier|couronne)|radio (de )?(la )?copa|kroonstraal/,
  ],
  [
    'crownDiameter',
    /(crown|canopy) ?(diam|width|spread)|kronendurchmesser|kronenbreite|kronend\b|diam\w* (du |de la )?(houppier|couronne)|diametro (de )?(la )?copa|kroon(diameter|breedte)/,
  ],
  ['circumference', /circumf|circonf|circunf|\bgirth|umfang|perimetro|omtrek|\b(gbh|cbh)\b/],
  [
    'diameter',
    /\b(dbh|dap|bhd|diam)\b|\bdiamet|stammdurchm|stammdiam|durchmesser|brusthohend|\bstdm|stamdiam|doorsnede/,
  ],
  ['height', /\bheight|hohe\b|hoehe\b|hauteur|\baltura|hoogte/],
  [
    'count',
    /^(anzahl|count|number of trees|trees count|quantity|qty|nombre|nombre d arbres|cantidad|numero de arboles|aantal|aantal bomen|anzahl baume|stuckzahl)\b/,
  ],
  [
    'plantedYear',
    /pflanz(ung|jahr|datum|j)|\b(year|date) (of )?plant|plant(ing|ed)? ?(year|date)|^planted|annee (de )?plant|date (de )?plant|ano (de )?plant|fecha (de )?plant|plantjaar|plantdatum|baujahr baum/,
  ],
  [
    'commonName',
    /common name|tree name|vernacular|deutscher name|(art|name|baumart|gattung) ?(deutsch|dt)\b|nom (commun|francais|vernaculaire)|nombre (comun|vulgar)|nederlandse naam|gangbare naam/,
  ],
  [
    'species',
    /^(ga lang|art|soort|essence|taxon|genus)$|species|botanical|\blatin|lateinisch|scientific|scientifique|cientific|wetenschappelijk|baumart|gattung|espece|especie|nom latin|boomsoort|art bot/,
  ],
  ['status', /\bstatus\b|\bstatut\b|\bestado\b/],
  ['owner', /\bowner|eigentum|proprietaire|propietario|eigenaar/],
  [
    'note',
    /^(notes?|remarks?|comments?|bemerkung(en)?|anmerkung(en)?|remarques?|commentaires?|observacion(es)?|opmerking(en)?)$/,
  ],
  [
    'tag',
    /\btag\b|baum ?(nummer|nr)|tree (number|no|nr|num)|plakette|(num(ero)?|no) (de l )?(arbre|arbol)|boom ?(nummer|nr)|^(number|nummer|numero|nr)$/,
  ],
]

/** Numbers that a program gives to its rows anew with each export. */
export const AUTO_NUMBER =
  /^(objectid( \d+)?|object id|oid|fid|ogc fid|gid|row ?(id|number|no)|rowid|index|the id)$/

/** Words that name a lasting identifier. */
export const KEY_WORDS =
  /^id (de l |del )?(tree|arbre|arbol|baum|boom)$|(tree|baum|arbre|arbol|boom|struct|osm|plant|global|facility|inventory)( way)? ?id$|^(id|uuid|guid|kennung|kennzeichen|identifier|identifiant|identificador|identificatie|idbaum|source key)$|\bid$/

/** Words that say where in a town: with a number they make an identifier. */
export const PLACE_WORDS =
  /stra(ss|s)e|\bstr\b|street|road|gebiet|bezirk|district|quart|\brue\b|\bvoie\b|calle|barrio|straat|wijk|\barea\b|park|section|ortsteil|standort|site|location|adress|address|anlage/
