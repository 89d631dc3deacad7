/** A place of a day, WGS84 degrees. */
export interface GpxPlace {
  longitude: number
  latitude: number
  name: string
  /** Said under the name; left out when empty. */
  description: string
}
/** A crew's day as a route with its places. */
export interface GpxDay {
  name: string
  description: string
  /** When the file was made, ISO 8601 in UTC. */
  madeAt: string
  /** Every place of the day, visited or not. */
  places: readonly GpxPlace[]
  /** The way still to go, in order. */
  way: readonly GpxPlace[]
}

/**
 * A day as GPX 1.1, as text: each place a waypoint, the way still to go a route. Elements stand in the order of the published schema
 * (topografix.com/GPX/1/1). Characters that XML 1.0 has no room for are left out.
 */
export function dayToGpx({ name, description, madeAt, places, way }: GpxDay): string {
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<gpx version="1.1" creator="Underbough" xmlns="http://www.topografix.com/GPX/1/1">',
    '  <metadata>',
    `    <name>${escaped(name)}</name>`,
    ...said(description, 4),
    `    <time>${escaped(madeAt)}</time>`,
    '  </metadata>',
    ...places.flatMap((place) => point('wpt', place, 2)),
    '  <rte>',
    `    <name>${escaped(name)}</name>`,
    ...said(description, 4),
    ...way.flatMap((place) => point('rtept', place, 4)),
    '  </rte>',
    '</gpx>',
  ]
  return `${lines.join('\n')}\n`
}

function point(element: 'wpt' | 'rtept', place: GpxPlace, indent: number): string[] {
  const room = ' '.repeat(indent)
  return [
    `${room}<${element} lat="${degrees(place.latitude)}" lon="${degrees(westOfDateLine(place.longitude))}">`,
    `${room}  <name>${escaped(place.name)}</name>`,
    ...said(place.description, indent + 2),
    `${room}</${element}>`,
  ]
}
const said = (text: string, indent: number) =>
  text === '' ? [] : [`${' '.repeat(indent)}<desc>${escaped(text)}</desc>`]

/** The schema's longitudes end below 180. */
const westOfDateLine = (longitude: number) => (longitude >= 180 ? longitude - 360 : longitude)
/** Seven decimals, a centimetre; no exponent, no zeros that say nothing. */
function degrees(value: number): string {
  const text = value.toFixed(7).replace(/\.?0+$/, '')
  return text === '-0' ? '0' : text
}

const entities: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
}
function escaped(text: string): string {
  return [...text]
    .filter((sign) => isXml(sign.codePointAt(0)!))
    .map((sign) => entities[sign] ?? sign)
    .join('')
}
/** Production [2] Char of XML 1.0. */
const isXml = (code: number): boolean =>
  code === 0x9 ||
  code === 0xa ||
  code === 0xd ||
  (code >= 0x20 && code <= 0xd7ff) ||
  (code >= 0xe000 && code <= 0xfffd) ||
  (code >= 0x10000 && code <= 0x10ffff)

/** A place as a `geo:` address (RFC 5870): a phone opens it in the map its person uses. */
export const geoAddress = ([longitude, latitude]: readonly [number, number]): string =>
  `geo:${degrees(latitude)},${degrees(longitude)}`
