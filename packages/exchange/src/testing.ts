import type { Outcome, Refusal, TreeMapping, ZoneMapping } from '@underbough/model'

/** Bytes of a text, for specs. */
export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text)

/** The value of an outcome that a spec expects to be good. */
export function taken<T>(outcome: Outcome<T>): T {
  if (!outcome.ok)
    throw new Error(`refused: ${outcome.refusals.map((r) => `${r.code} ${r.message}`).join('; ')}`)
  return outcome.value
}

export const codesOf = (refusals: readonly Refusal[]): string[] => refusals.map((r) => r.code)

/** Every code an outcome carries at the level of the file. */
export const outcomeCodes = (outcome: Outcome<unknown>): string[] =>
  codesOf(outcome.ok ? outcome.notes : outcome.refusals)

export const mappingWith = (
  columns: TreeMapping['columns'],
  rest: Partial<TreeMapping> = {},
): TreeMapping => ({
  columns,
  diameterUnit: 'cm',
  heightUnit: 'm',
  measuredAtM: 1.3,
  crs: 'WGS84',
  decimalComma: false,
  speciesOrder: 'botanical',
  speciesSeparator: '',
  ...rest,
})

export const plainColumns: TreeMapping['columns'] = {
  id: 'sourceKey',
  species: 'species',
  lon: 'x',
  lat: 'y',
  d: 'diameter',
}

export const zoneMappingWith = (rest: Partial<ZoneMapping> = {}): ZoneMapping => ({
  nameColumn: 'name',
  kindColumn: null,
  kind: 'seating',
  lineWidthM: 6,
  crs: 'WGS84',
  ...rest,
})

/** One GeoJSON feature collection as bytes. */
export const featuresBytes = (...features: { properties?: object; geometry: unknown }[]): Uint8Array =>
  bytesOf(
    JSON.stringify({
      type: 'FeatureCollection',
      features: features.map((f) => ({ type: 'Feature', properties: {}, ...f })),
    }),
  )
