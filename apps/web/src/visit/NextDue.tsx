import { type CivilDate, today as civilToday, type Due, daysBetween } from '@underbough/model'
import { sayDate, sayDay, sayLength } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'

/** When the tree is due next and why, in the words of the rule; and when it was before. */
export function NextDue(props: { due: Due | null; before: Due | null; reckonedHere?: boolean }) {
  const { due, before, reckonedHere = false } = props
  const { organisation } = usePerson()
  const today = civilToday(organisation.timeZone)
  return (
    <section className="next-due" aria-label="When it is due next">
      {due ? (
        <>
          <p className="tree-word">
            {due.kind === 'work' ? 'Work' : 'Next look'} {sayWhen(due.on, today)}
          </p>
          <p className="prose">{due.reason}</p>
          {due.lookOn ? (
            <p className="q">
              The look under it: {sayDay(due.lookOn)} {due.lookOn.slice(0, 4)}.
            </p>
          ) : null}
          {before && before.on !== due.on ? (
            <p className="q">Before this visit it stood at {sayDate(before.on)}.</p>
          ) : null}
        </>
      ) : (
        <p className="tree-word">Nothing is due here any more</p>
      )}
      {reckonedHere ? <p className="q">Worked out on this phone by the office’s policy.</p> : null}
    </section>
  )
}

function sayWhen(on: CivilDate, today: CivilDate): string {
  const days = daysBetween(today, on)
  const when = sayDate(on)
  if (days === 0) return `today, ${when}`
  return days < 0 ? `${when}, ${sayLength(days)} late` : `${when}, in ${sayLength(days)}`
}
