import { describe, expect, it } from 'vitest'
import { suggestMapping } from './suggest.ts'
import { readTable } from './table.ts'
import { bytesOf, taken } from './testing.ts'

const suggest = (text: string, units: 'metric' | 'inch-pound' = 'metric') =>
  suggestMapping(taken(readTable(bytesOf(text), 'list.csv')), { stemHeightM: 1.4, units })

/** Header words as municipal lists write them (common practice, no source). */
const headers: [language: string, header: string][] = [
  [
    'English',
    'Tree ID,Tree No,Botanical Name,Common Name,DBH (cm),Height (m),Crown Spread (m),Year Planted,Longitude,Latitude,Remarks',
  ],
  [
    'German',
    'Baum-ID,Baumnummer,Baumart botanisch,Art deutsch,Stammdurchmesser (cm),Baumhöhe (m),Kronendurchmesser (m),Pflanzjahr,Rechtswert,Hochwert,Bemerkungen',
  ],
  [
    'French',
    'ID arbre,Numéro arbre,Nom scientifique,Nom commun,Diamètre du tronc (cm),Hauteur (m),Diamètre de la couronne (m),Année de plantation,Longitude,Latitude,Remarques',
  ],
  [
    'Spanish',
    'ID árbol,Número árbol,Nombre científico,Nombre común,Diámetro tronco (cm),Altura (m),Diámetro de copa (m),Año de plantación,Longitud,Latitud,Observaciones',
  ],
  [
    'Dutch',
    'Boom ID,Boomnummer,Wetenschappelijke naam,Nederlandse naam,Stamdiameter (cm),Boomhoogte (m),Kroondiameter (m),Plantjaar,Lengtegraad,Breedtegraad,Opmerkingen',
  ],
]
const rows = [
  'a1,1,Tilia cordata,Lime,40,12,6,1987,-8.25,-31.67,by the gate',
  'a2,1,Olea europaea,Olive,30,6,4,1990,-8.26,-31.68,',
]

describe('a mapping to start from', () => {
  it.each(headers)('knows the header words of %s', (_, header) => {
    const { columns } = suggest([header, ...rows].join('\n'))
    expect(columns.map((c) => c.field)).toEqual([
      'sourceKey',
      'tag',
      'species',
      'commonName',
      'diameter',
      'height',
      'crownDiameter',
      'plantedYear',
      'x',
      'y',
      'note',
    ])
    for (const column of columns) {
      expect(column.because).not.toBe('')
      expect(column.confidence).not.toBe('none')
    }
  })

  it('knows a girth from a diameter, and a crown from a stem', () => {
    const { columns } = suggest('id,Stammumfang,Kronenradius,Kronenansatz\n1,120,3,2\n2,90,2,1\n')
    expect(columns.map((c) => c.field)).toEqual([
      'sourceKey',
      'circumference',
      'crownRadius',
      'crownBaseHeight',
    ])
  })

  it('does not believe a header whose cells say otherwise, and says what it left out', () => {
    const { columns } = suggest('id,diameter,blank,what\n1,thick,,7\n2,thin,,7\n')
    expect(columns.map((c) => [c.field, c.confidence])).toEqual([
      ['sourceKey', 'likely'],
      ['ignore', 'none'],
      ['ignore', 'sure'],
      ['ignore', 'none'],
    ])
  })

  it('never takes the row numbers of a program for the identifier', () => {
    const { columns } = suggest('OBJECTID,_id,FID,STRUCTID\n1,1,1,K9\n2,2,2,K7\n')
    expect(columns.map((c) => c.field)).toEqual(['ignore', 'ignore', 'ignore', 'sourceKey'])
  })

  it('takes no identifier rather than a row number', () => {
    const { columns } = suggest('_id,OBJECT_ID,name\n1,1,a\n2,2,b\n')
    expect(columns.map((c) => c.field)).toEqual(['ignore', 'ignore', 'ignore'])
  })

  it('joins as few place columns as make the number unique', () => {
    const { columns } = suggest('Baumnummer,Strasse,Gebiet,Ort\n1,A,X,P\n1,B,X,P\n2,A,X,P\n1,A,Y,P\n')
    expect(columns.map((c) => c.field)).toEqual(['sourceKeyPart', 'sourceKeyPart', 'sourceKeyPart', 'ignore'])
  })

  it.each([
    ['DBH_mm', '400', 'metric', 'mm', 'sure'],
    ['diameter', '400', 'metric', 'mm', 'likely'],
    ['diameter', '0.4', 'metric', 'm', 'likely'],
    ['diameter', '40', 'metric', 'cm', 'guess'],
    ['diameter', '14', 'inch-pound', 'in', 'guess'],
    ['diameter in', '14', 'metric', 'in', 'sure'],
    ['Umfang', '120', 'metric', 'cm', 'guess'],
  ] as const)('takes %s of %s (%s) for %s, %s', (header, cell, units, unit, confidence) => {
    const suggestion = suggest(`id,${header}\na,${cell}\nb,${cell}\n`, units)
    expect(suggestion.mapping.diameterUnit).toBe(unit)
    expect(suggestion.settings.diameterUnit.confidence).toBe(confidence)
  })

  it('takes the measuring height from the organisation, as a guess', () => {
    const suggestion = suggest('id,dbh\na,1\n')
    expect(suggestion.mapping.measuredAtM).toBe(1.4)
    expect(suggestion.settings.measuredAtM.confidence).toBe('guess')
  })

  it.each([
    ['lon;lat', '-8,25;-31,67', 'WGS84', 'likely', true],
    ['rechtswert;hochwert', '3530082,7;6074377,3', 'EPSG:31467', 'likely', true],
    ['hochwert;rechtswert', '3530082.7;6074377.3', 'EPSG:31467', 'likely', false],
    ['x;y', '121000.5;487000.5', 'EPSG:28992', 'likely', false],
    ['easting;northing', '571094.9;6495897.1', 'WGS84', 'none', false],
  ] as const)('takes %s of %s for %s, %s', (header, cells, crs, confidence, comma) => {
    const suggestion = suggest(`id;${header}\na;${cells}\nb;${cells}\n`)
    expect(suggestion.mapping.crs).toBe(crs)
    expect(suggestion.settings.crs.confidence).toBe(confidence)
    expect(suggestion.mapping.decimalComma).toBe(comma)
  })

  it.each([
    ['Tilia cordata, Winter-Linde', 'botanical-then-common', ','],
    ['Winter-Linde - Tilia cordata', 'common-then-botanical', ' - '],
    ['Tilia cordata', 'botanical', ''],
  ] as const)('sees the order of the names in %j', (cell, order, separator) => {
    const { mapping } = suggest(`id;species\na;${cell}\nb;${cell}\n`)
    expect([mapping.speciesOrder, mapping.speciesSeparator]).toEqual([order, separator])
  })
})
