import {
  addDays,
  type CivilDate,
  type Due,
  type OccupancyWord,
  occupancyWords,
  rank,
  type VisitLevel,
  visitLevels,
} from '@underbough/model'
import { intervalOf, type Policy, partSizeOf } from '../policy/policy.ts'
import { baselineDate } from './baseline.ts'
import type { DueEvent, DueInput, DuePart, DueVisit } from './input.ts'
import { seasonedDate, seasonMonths } from './season.ts'
import { besideTarget, capital, days, eventNames, every, plainDate } from './words.ts'
import type { Standing } from './work.ts'

/** One reason to look, with its date. The earliest is what is due. */
export interface LookReason {
  on: CivilDate
  level: VisitLevel
  kind: Exclude<Due['kind'], 'work'>
  outOfSeason: boolean
  sentence: string
  parts: DuePart[]
}

/** The case of a tree: what its interval and its level of visit are read by. */
interface Case {
  use: OccupancyWord
  level: VisitLevel
  months: number
  /** `high beside a constant target`, with part and change where they set the interval. */
  name: string
  parts: DuePart[]
}

/** Every reason to look at a tree that stands, earliest first; never empty. */
export function lookReasons(input: DueInput, standing: Standing, policy: Policy): LookReason[] {
  const of = caseOf(input, standing, policy)
  const closed = input.lastVisits.filter((visit) => visit.closed)
  const clocks = visitLevels
    .filter((level) => level <= of.level)
    .reverse()
    .map((level) => clock(level, closed, of, input, standing, policy))
  const events = input.events.flatMap((event) => eventReason(event, closed, policy))
  const asked = standing.looks.map((work): LookReason => {
    const sentence = `A ${work.kind === 'monitor' ? 'look to monitor it' : 'deeper look'} was asked for by ${plainDate(work.on)}.`
    const level = work.kind === 'monitor' ? of.level : 3
    const parts: DuePart[] = [{ rule: 'work-asks-for-look', words: sentence }]
    return { on: work.on, level, kind: 'look', outOfSeason: false, sentence, parts }
  })
  const elsewhere =
    input.rating && closed.length === 0
      ? [ratedElsewhere(input.rating.ratedOn, of, input, standing, policy)]
      : []
  return [...clocks, ...elsewhere, ...events, ...asked].sort((a, b) =>
    a.on < b.on ? -1 : a.on > b.on ? 1 : 0,
  )
}

/** Heaviest of the zone within reach and the targets rated; rare where there is neither. */
function heaviestUse(input: DueInput): OccupancyWord {
  const words = [input.zoneUse ?? 'rare', ...(input.rating?.occupancyWords ?? [])]
  return occupancyWords[Math.max(...words.map((word) => rank(occupancyWords, word)))]!
}

function caseOf(input: DueInput, standing: Standing, policy: Policy): Case {
  const { rating } = input
  const use = heaviestUse(input)
  // Assumption: before a rating the part is the whole tree, so its stem's size; unknown counts as large.
  const partSize =
    rating?.partSize ?? (input.stemDiameterCm === null ? 'large' : partSizeOf(input.stemDiameterCm, policy))
  const changeRate = rating?.changeRate ?? 'ordinary'
  const { months, byRisk } = intervalOf(policy, { use, partSize, changeRate, risk: standing.risk })
  const where = besideTarget[use]
  const said = !rating
    ? 'not rated yet,'
    : standing.residual
      ? `${standing.risk} after its work,`
      : standing.risk
  const name = byRisk ? `${said} ${where}` : `${said} ${where}, ${partSize} part, ${changeRate} change`
  const parts: DuePart[] = byRisk
    ? [{ rule: 'risk-caps-interval', words: `${capital(standing.risk)} ${where}: at most ${months} months.` }]
    : [
        {
          rule: 'interval-by-case',
          words: `${capital(partSize)} part, ${changeRate} change, ${where}: ${every(months)}.`,
        },
      ]
  if (!rating) parts.push({ rule: 'not-rated', words: `Not rated yet: taken for ${policy.unratedRisk}.` })
  if (standing.residual)
    parts.push({ rule: 'residual-risk-counts', words: `The work is done; ${standing.risk} remains.` })
  const others = [input.zoneUse, ...(rating?.occupancyWords ?? [])]
  if (others.some((word) => word !== null && word !== use))
    parts.push({ rule: 'heaviest-use-counts', words: `Of the targets within reach the ${use} one counts.` })
  return { use, level: policy.levels[rating ? standing.risk : 'unrated'][use], months, name, parts }
}

/** The clock of one level: the last closed look on it or above starts it; with none, the first look is still due. */
function clock(
  level: VisitLevel,
  closed: readonly DueVisit[],
  of: Case,
  input: DueInput,
  standing: Standing,
  policy: Policy,
): LookReason {
  const last = latest(closed.filter((visit) => visit.level >= level))
  if (!last) return firstLook(closed, of, input, policy)
  const parts: DuePart[] = [...of.parts]
  const lesser = latest(closed)
  if (lesser && lesser.on > last.on && lesser.level < level)
    parts.push({
      rule: 'lesser-look-keeps-clock',
      words: `The look of ${plainDate(lesser.on)} was level ${lesser.level}; the clock runs from ${plainDate(last.on)}, level ${last.level}.`,
    })
  return interval(last.on, of, parts, input, standing, policy)
}

function interval(
  anchor: CivilDate,
  of: Case,
  parts: DuePart[],
  input: DueInput,
  standing: Standing,
  policy: Policy,
): LookReason {
  const prefer = input.leafPreference ?? policy.season.prefer
  const { on, raw, step } = seasonedDate(
    anchor,
    of.months,
    seasonMonths(prefer, input.hemisphere, policy),
    policy.graceDays[standing.risk],
    policy.season.keepShare,
  )
  const all = [...parts]
  if (anchor.slice(8) !== raw.slice(8))
    all.push({
      rule: 'month-end',
      words: `${of.months} months from ${plainDate(anchor)} end on ${plainDate(raw)}.`,
    })
  const season = prefer.replaceAll('-', ' ')
  if (step === 'moved-earlier')
    all.push({ rule: 'season-moved-earlier', words: `Moved from ${plainDate(raw)} to be ${season}.` })
  if (step === 'waits-for-season')
    all.push({ rule: 'season-waits', words: `Waits from ${plainDate(raw)} to be ${season}.` })
  if (step === 'out-of-season')
    all.push({ rule: 'season-missed', words: `${plainDate(raw)} is not ${season}: plan a second look.` })
  const tail =
    step === 'out-of-season' ? '; out of season, plan a second look' : prefer === 'any' ? '' : `, ${season}`
  const sentence = `${capital(of.name)}, ${every(of.months)}${tail}.`
  return { on, level: of.level, kind: 'look', outOfSeason: step === 'out-of-season', sentence, parts: all }
}

function firstLook(closed: readonly DueVisit[], of: Case, input: DueInput, policy: Policy): LookReason {
  const within = `${policy.baselineMonths[of.use]} months of coming in`
  const seen = closed.length > 0
  const sentence = `${seen ? `Never looked at on level ${of.level}` : 'Never looked at'}, ${besideTarget[of.use]}: within ${within}, largest stems first.`
  const parts: DuePart[] = [{ rule: 'never-seen', words: sentence }]
  if (seen)
    parts.push({
      rule: 'level-not-reached',
      words: `This case asks for level ${of.level}; no closed look reached it.`,
    })
  const on = baselineDate(input.importedOn, of.use, input.rankInBaseline ?? 1, policy)
  return { on, level: of.level, kind: 'baseline', outOfSeason: false, sentence, parts }
}

function ratedElsewhere(
  ratedOn: CivilDate,
  of: Case,
  input: DueInput,
  standing: Standing,
  policy: Policy,
): LookReason {
  const words = `Rated on ${plainDate(ratedOn)} without a look that is on record.`
  return interval(ratedOn, of, [...of.parts, { rule: 'rated-elsewhere', words }], input, standing, policy)
}

/** Answered by a closed look on its level since; on the same day only for kinds where the event must have come first. */
function eventReason(event: DueEvent, closed: readonly DueVisit[], policy: Policy): LookReason[] {
  const rule = policy.events[event.kind]
  const answered = closed.some(
    (visit) =>
      visit.level >= rule.level && (visit.on > event.on || (rule.sameDayCounts && visit.on === event.on)),
  )
  if (answered) return []
  const within = event.lookWithinDays ?? rule.withinDays
  const sentence = `${eventNames[event.kind]} on ${plainDate(event.on)}: look within ${days(within)}.`
  return [
    {
      on: addDays(event.on, within),
      level: rule.level,
      kind: 'look',
      outOfSeason: false,
      sentence,
      parts: [{ rule: 'event-brings-forward', words: sentence }],
    },
  ]
}

function latest(visits: readonly DueVisit[]): DueVisit | undefined {
  return visits.reduce<DueVisit | undefined>(
    (last, next) =>
      !last || next.on > last.on || (next.on === last.on && next.level > last.level) ? next : last,
    undefined,
  )
}
