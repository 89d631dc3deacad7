import { type CivilDate, civilDate, dayNumber, mondayOf, type RiskWord, riskWords } from '@underbough/model'

export type WeekCount = Record<RiskWord | 'unrated', number>
/** Looks due in one week, by risk. `late` holds those of them that are overdue today. */
export interface DueWeek {
  week: CivilDate
  due: WeekCount
  late: WeekCount
}

const none = (): WeekCount => ({ low: 0, moderate: 0, high: 0, extreme: 0, unrated: 0 })

/** Counts by day into whole weeks from Monday, every week from the first to the last, empty ones too. */
export function weeksOf(
  days: { on: CivilDate; risk: RiskWord | null; count: number }[],
  today: CivilDate,
  first: CivilDate,
  last: CivilDate,
): DueWeek[] {
  const weeks = new Map<CivilDate, DueWeek>()
  for (let at = dayNumber(mondayOf(first)); at <= dayNumber(last); at += 7)
    weeks.set(civilDate(at), { week: civilDate(at), due: none(), late: none() })
  const firstWeek = mondayOf(first)
  for (const { on, risk, count } of days) {
    if (on > last) continue
    // Civil dates sort as text.
    const key = [mondayOf(on), firstWeek].sort()[1]!
    const week = weeks.get(key)!
    const word = risk && riskWords.includes(risk) ? risk : 'unrated'
    week.due[word] += count
    if (on < today) week.late[word] += count
  }
  return [...weeks.values()]
}
