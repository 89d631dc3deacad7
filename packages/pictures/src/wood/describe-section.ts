import type { PlacedReading, Section } from '@underbough/wood'
import { compassWord, counted, figure, listed, metres } from '../draw/say.ts'

const cm = (value: number) => `${figure(value)} cm`
const percent = (share: number) => `${Math.round(share * 100)} %`

/** A wall as it is written beside its reading: what stopped in firm wood is “over”. */
export const wallWords = (one: PlacedReading): string => `${one.censored ? 'over ' : ''}${cm(one.wallCm)}`

const limitWords: Readonly<Record<Section['limits'][number], string>> = {
  'few-readings': 'not enough readings',
  gap: 'a gap of more than 75° between two readings',
  'opening-incomplete': 'an opening not wholly measured',
}
/** Why less is said than could be, in words; empty where nothing is held back. */
export const limitsWords = (section: Section): string => listed(section.limits.map((one) => limitWords[one]))

/** One sentence that a lay person understands: where wood was found firm, where it is thin or gone, and what nobody knows. */
export function sectionCaption(section: Section): string {
  const { readings, openings } = section
  const where = `Seen from above at ${metres(section.heightM)}`
  const open = openings.length
    ? `, open to the ${listed(openings.map((one) => compassWord(one.fromBearingDeg + one.widthDeg / 2)))}`
    : ''
  if (readings.length === 0)
    return `${where}${open}: nobody has read into the wood, so nobody knows what lies inside.`
  const ended = readings.filter((one) => !one.censored)
  const unread = readings.every((one) => one.unreadCm > 0.5)
  const unknown = unread
    ? '; the hatched middle was not read, so nobody knows what it is like'
    : '; what is hatched was not read'
  if (ended.length === 0) {
    const walls = readings.map((one) => one.wallCm)
    const [least, most] = [Math.min(...walls), Math.max(...walls)]
    const deep = figure(least) === figure(most) ? cm(least) : `${figure(least)} to ${cm(most)}`
    return `${where}${open}: firm wood as deep as the readings went, ${deep}${unknown}.`
  }
  const thin = ended.reduce((a, b) => (b.wallCm < a.wallCm ? b : a))
  const thick = readings.reduce((a, b) => (b.wallCm > a.wallCm ? b : a))
  const firm =
    thin === thick
      ? `${cm(thin.wallCm)} of firm wood to the ${compassWord(thin.bearingDeg)}`
      : `firm wood is thickest to the ${compassWord(thick.bearingDeg)}, ${wallWords(thick)}, and thinnest to the ${compassWord(thin.bearingDeg)}, ${wallWords(thin)}`
  return `${where}: ${firm}${open}${unknown}.`
}

/** The figure as it stands in a report: what it is a share of, from how many readings, and what it leaves out. */
export function sectionFormal(section: Section): string {
  const from = `from ${counted(section.readings.length, 'reading')} at ${metres(section.heightM)}`
  const left = `${section.openings.length ? 'torsion, ' : ''}root plate and unions not assessed`
  if (!section.share)
    return `No figure for this cross-section: ${limitsWords(section)}; ${from}. The wall and its share of the radius are given at each reading.`
  const { p05, p50, p95 } = section.share
  const share =
    p50 === null
      ? `between ${percent(p05)} and ${percent(p95)}, a range only: ${limitsWords(section)}`
      : `${percent(p05)} … ${percent(p50)} … ${percent(p95)} (5, 50 and 95 % of the drawn walls)`
  const bending = section.bendingOnly ? ' Bending only.' : ''
  return `Bending strength of this cross-section as a share of the same outline if sound: ${share}; ${from}; ${left}.${bending}`
}

/** The drawing in words. */
export function describeSection(section: Section): string {
  const readings = section.readings.map(
    (one) =>
      `${one.label} to the ${compassWord(one.bearingDeg)}: wall ${wallWords(one)}, ${one.tOverR.toFixed(2)} of the radius${one.unreadCm > 0.5 ? `, ${cm(one.unreadCm)} to the middle not read` : ''}`,
  )
  const openings = section.openings.map(
    (one) =>
      `Opening from ${Math.round(one.fromBearingDeg)}° to ${Math.round(one.toBearingDeg)}°${one.depthCm === null ? ', depth not measured' : `, ${cm(one.depthCm)} deep`}`,
  )
  const weakest =
    section.weakestBearingDeg === null
      ? []
      : [
          `Weakest when bent along ${Math.round(section.weakestBearingDeg)}° and ${Math.round(section.weakestBearingDeg) + 180}°`,
        ]
  return [
    sectionCaption(section).replace(/\.$/, ''),
    ...readings,
    ...openings,
    ...weakest,
    sectionFormal(section).replace(/\.$/, ''),
  ]
    .join('. ')
    .concat('.')
}
