import type { OccupancyProfile, OccupancyWord, SeasonWeek } from '@underbough/model'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { Button, Field, monthName } from '../look/index.ts'
import { ProfileFields } from './ProfileFields.tsx'
import { restOf, sayMonths } from './profile.ts'

const MOST_SEASONS = 6
const allMonths = Array.from({ length: 12 }, (_, i) => i + 1)

/** Weeks of months that have another one than the rest of the year: each with its months, which no other season holds. */
export function SeasonsEdit({
  seasons,
  week,
  word,
  refusalFor,
  onChange,
}: {
  seasons: readonly SeasonWeek[]
  /** The week of the rest of the year, which a new season begins from. */
  week: OccupancyProfile
  word: OccupancyWord
  refusalFor(path: string): string | null
  onChange(seasons: SeasonWeek[]): void
}) {
  const put = (at: number, change: Partial<SeasonWeek>) =>
    onChange(seasons.map((season, i) => (i === at ? { ...season, ...change } : season)))
  const rest = restOf(seasons)
  return (
    <div className="seasons-edit">
      {seasons.map((season, i) => (
        <section key={i} className="season" aria-label={season.name || `Season ${i + 1}`}>
          <div className="row c">
            <h3>{season.months.length > 0 ? sayMonths(season.months) : 'No month yet'}</h3>
            <Button kind="quiet" className="sp" onPress={() => onChange(seasons.filter((_, at) => at !== i))}>
              Take away
            </Button>
          </div>
          <Field
            label="Name of the season"
            value={season.name}
            onChange={(name) => put(i, { name })}
            refusal={refusalFor(`seasons.${i}.name`)}
          />
          <div className="months" role="group" aria-label="Its months">
            {allMonths.map((month) => {
              const isHeld = season.months.includes(month)
              return (
                <ToggleButton
                  key={month}
                  className="month"
                  isSelected={isHeld}
                  isDisabled={!isHeld && !rest.includes(month)}
                  onChange={(on) =>
                    put(i, {
                      months: on
                        ? [...season.months, month].sort((a, b) => a - b)
                        : season.months.filter((m) => m !== month),
                    })
                  }
                >
                  {monthName(month - 1)}
                </ToggleButton>
              )
            })}
          </div>
          {refusalFor(`seasons.${i}.months`) ? (
            <p className="field-refusal">Choose at least one month.</p>
          ) : null}
          <ProfileFields
            profile={season.occupancy}
            word={word}
            onChange={(occupancy) => put(i, { occupancy })}
          />
        </section>
      ))}
      {seasons.length < MOST_SEASONS && rest.length > 0 ? (
        <Button
          kind="quiet"
          onPress={() => onChange([...seasons, { name: '', months: [], occupancy: structuredClone(week) }])}
        >
          {seasons.length > 0 ? 'Another season' : 'Other hours in some months'}
        </Button>
      ) : null}
      {seasons.length > 0 ? (
        <p className="s q">
          {rest.length > 0
            ? `The week further up holds in the rest of the year: ${sayMonths(rest)}.`
            : 'The seasons hold every month; the week further up is not used.'}
        </p>
      ) : null}
    </div>
  )
}
