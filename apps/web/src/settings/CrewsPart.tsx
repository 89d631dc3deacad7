import type { Crew } from '@underbough/model'
import { CrewLineSample } from '@underbough/pictures'
import { useState } from 'react'
import { useCrews, useMapView } from '../api/index.ts'
import { Button, count, Empty, ErrorNote, Facts, Loading, Plate, sayDate } from '../look/index.ts'
import { middleOf } from '../map/index.ts'
import { CrewForm } from './CrewForm.tsx'
import { usePeople } from './hooks.ts'
import { sayWeek } from './hours.ts'

/** Who goes out, when, from where and with what. */
export function CrewsPart() {
  const crews = useCrews()
  const people = usePeople()
  const view = useMapView()
  const [edited, setEdited] = useState<Crew | 'new' | null>(null)
  if (crews.error || people.error)
    return (
      <ErrorNote
        title="The crews cannot be fetched."
        error={crews.error ?? people.error}
        action={<Button onPress={() => Promise.all([crews.refetch(), people.refetch()])}>Try again</Button>}
      />
    )
  if (!crews.data || !people.data) return <Loading>Fetching the crews.</Loading>
  const add = (
    <Button kind="do" isDisabled={!view.data} onPress={() => setEdited('new')}>
      Add a crew
    </Button>
  )
  return (
    <>
      {crews.data.length === 0 ? (
        <Empty title="No crew yet." action={add}>
          Rounds are planned for crews: their hours, their level, and where their day begins.
        </Empty>
      ) : (
        <>
          <div className="crews">
            {crews.data.map((crew) => (
              <Plate
                key={crew.id}
                title={
                  <>
                    {crew.name} <CrewLineSample letter={crew.letter} hidden />
                  </>
                }
                aside={`letter ${crew.letter}`}
              >
                <Facts
                  rows={[
                    ['Hours', sayWeek(crew.hours)],
                    ['Break', `${crew.breakMinutes} minutes`],
                    ['Highest level', String(crew.level)],
                    ['Equipment', crew.equipment.join(', ') || 'none'],
                    [
                      'Members',
                      crew.memberIds
                        .map((id) => people.data.find((p) => p.personId === id)?.name ?? 'somebody who left')
                        .join(', ') || 'none',
                    ],
                    ['Days off', sayDaysOff(crew.daysOff)],
                  ]}
                />
                <p className="crew-press">
                  <Button aria-label={`Change ${crew.name}`} onPress={() => setEdited(crew)}>
                    Change
                  </Button>
                </p>
              </Plate>
            ))}
          </div>
          <p>{add}</p>
        </>
      )}
      {edited && view.data ? (
        <CrewForm
          crew={edited === 'new' ? null : edited}
          taken={crews.data.filter((c) => c !== edited).map((c) => c.letter)}
          people={people.data}
          place={middleOf(view.data.bounds)}
          onClose={() => setEdited(null)}
        />
      ) : null}
    </>
  )
}

function sayDaysOff(days: readonly string[]): string {
  if (days.length === 0) return 'none'
  const first = days.slice(0, 3).map((day) => sayDate(day, true))
  return days.length > 3
    ? `${first.join(', ')} and ${count(days.length - 3, 'more', 'more')}`
    : first.join(', ')
}
