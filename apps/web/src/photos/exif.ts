import type { Position } from '@underbough/model'

/** What a camera wrote into a picture; null where it wrote nothing that can be read. */
export interface Written {
  takenAt: string | null
  position: Position | null
}
const nothing: Written = { takenAt: null, position: null }

// Tags of Exif 2.32 (CIPA DC-008-2019), sections 4.6.5 and 4.6.6.
const TAKEN = 0x9003
const TAKEN_OFFSET = 0x9011
const LAT_REF = 1
const LAT = 2
const LON_REF = 3
const LON = 4

/** Time and place from the EXIF of a JPEG or HEIC. Whatever cannot be read is left out; it never throws. */
export async function readExif(bytes: ArrayBuffer): Promise<Written> {
  try {
    const { parse } = await import('exifr/dist/lite.esm.mjs')
    const tags = await parse(bytes, {
      tiff: true,
      exif: { pick: [TAKEN, TAKEN_OFFSET] },
      gps: { pick: [LAT_REF, LAT, LON_REF, LON] },
      translateKeys: false,
      translateValues: false,
      reviveValues: false,
      mergeOutput: false,
    })
    return { takenAt: instantOf(tags?.exif), position: positionOf(tags?.gps) }
  } catch {
    return nothing
  }
}

type Tags = Record<number, unknown> | undefined

/** `2026:11:25 14:02:03` with its offset; without one it is the clock of this device's own zone, where the camera most likely is. */
function instantOf(tags: Tags): string | null {
  const written = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)/.exec(String(tags?.[TAKEN] ?? ''))
  if (!written) return null
  const offset = /^([+-]\d\d:\d\d|Z)/.exec(String(tags?.[TAKEN_OFFSET] ?? '').trim())?.[1] ?? ''
  const at = new Date(`${written[1]}-${written[2]}-${written[3]}T${written[4]}${offset}`)
  return Number.isNaN(at.getTime()) ? null : at.toISOString()
}

function positionOf(tags: Tags): Position | null {
  const lat = degreesOf(tags?.[LAT], tags?.[LAT_REF], 'S')
  const lon = degreesOf(tags?.[LON], tags?.[LON_REF], 'W')
  if (lat === null || lon === null || Math.abs(lat) > 90 || Math.abs(lon) > 180) return null
  return [lon, lat]
}
/** Degrees, minutes, seconds with the half of the world in a letter. */
function degreesOf(parts: unknown, ref: unknown, negative: string): number | null {
  if (!Array.isArray(parts) || typeof ref !== 'string') return null
  const [degrees, minutes = 0, seconds = 0] = parts.map(Number)
  const value = degrees! + minutes / 60 + seconds / 3600
  if (!Number.isFinite(value)) return null
  return ref.trim().toUpperCase().startsWith(negative) ? -value : value
}
