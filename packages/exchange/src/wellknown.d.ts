declare module 'wellknown' {
  /** Well-known text to a GeoJSON geometry; null for anything else. */
  export function parse(text: string): { type: string; coordinates: unknown } | null
  const wellknown: { parse: typeof parse }
  export default wellknown
}
