import { lookingSteps, type ProbeInput, type Refusal, refusal, today } from '@underbough/model'
import { missingToClose } from '@underbough/rating'
import { device, useLive } from '../keep/index.ts'
import { Button, Field, Notice, Standing } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { type Draft, visitOf } from './draft.ts'
import { isUrgent, judge } from './judgement.ts'
import { sayQualification } from './qualification.ts'
import { readBack, screenOf } from './readBack.ts'
import type { ScreenProps } from './screen.ts'
import { useClockOffset, useReckoned } from './useReckoned.ts'
import { useVisitPhotos, VisitPhotos } from './VisitPhotos.tsx'

/** All that stands in the way of closing, by the rules the office closes with. */
export function missingOf(draft: Draft): Refusal[] {
  const missing = missingToClose({ ...visitOf(draft), endedAt: new Date().toISOString() })
  if (draft.leaveRating) return missing
  if (!draft.rating)
    return [
      ...missing,
      refusal('rating-no-scenario', 'rating', { message: 'The rating has not been looked at yet.' }),
    ]
  const judged = judge(draft.rating, {
    treeId: draft.treeId,
    visitId: draft.id,
    timeFrameYears: draft.assignment.timeFrameYears,
  })
  if (!judged.rated && judged.openWords > 0)
    missing.push(refusal('required', 'rating', { message: 'Words of the rating are still open.' }))
  for (const r of judged.refusals) missing.push({ ...r, path: `rating.${r.path}` })
  if ((isUrgent(draft.rating) || judged.rated?.urgent) && !draft.urgentNote)
    missing.push(refusal('urgent-note-first', 'urgentNote'))
  return missing
}

/** Readings of a visit on this device: handed in, and begun. */
const useReadingCount = (visitId: string) =>
  useLive(
    `readings ${visitId}`,
    async () => {
      const entries = await device.entries.filter(({ kind }) => kind === 'reading').toArray()
      const handedIn = entries.filter(({ body }) => (body as ProbeInput).visitId === visitId)
      const begun = await device.readings
        .filter((row) => row.visitId === visitId && row.probe === null)
        .count()
      return { handedIn: new Set(handedIn.map(({ subjectId }) => subjectId)).size, begun }
    },
    { handedIn: 0, begun: 0 },
  )

/** Reads back, in plain words, what will be on record; then it is closed. */
export function ClosingScreen({ visit, go }: ScreenProps) {
  const { draft, kept, refusals, closing } = visit
  const me = usePerson()
  const { tree } = kept.ground.whole
  const missing = missingOf(draft)
  const photos = useVisitPhotos(visit)
  const readings = useReadingCount(draft.id)
  const due = useReckoned(visit)
  const clockOffsetMs = useClockOffset()
  const lines = readBack(draft, {
    personName: me.name,
    treeName: `${tree.tag} ${tree.commonName ?? tree.species}`,
    qualification: sayQualification(me, today(me.organisation.timeZone)).words,
    photos: photos.filter(({ photo }) => photo.copyKind === null).length,
    readings,
    due,
    clockOffsetMs,
  })
  const shown = [
    ...missing,
    ...refusals.filter((r) => !missing.some((m) => m.path === r.path && m.code === r.code)),
  ]
  return (
    <>
      <h1 tabIndex={-1}>Read it back</h1>
      <p className="q">
        This will be on record under your name. A closed visit is not changed; a correction is a new entry.
      </p>
      {shown.length > 0 ? (
        <Notice tone={refusals.length > 0 ? 'refused' : 'mind'} title="Before it can be closed:">
          <ul className="visit-missing">
            {shown.map((r) => (
              <li key={`${r.code}-${r.path}`}>
                {r.message}{' '}
                <Button kind="quiet" onPress={() => go(screenOf(r))}>
                  Go there
                </Button>
              </li>
            ))}
          </ul>
        </Notice>
      ) : null}
      <ol className="read-back">
        {lines.map((line) => (
          <li key={line.words}>
            <p className="prose">{line.words}</p>
            {line.screen === 'closing' ? null : (
              <Button kind="quiet" aria-label={`Change: ${line.words}`} onPress={() => go(line.screen)}>
                Change
              </Button>
            )}
          </li>
        ))}
      </ol>
      <Field
        label="What could not be seen, in your words"
        multiline
        value={draft.couldNotSee}
        onChange={(couldNotSee) => visit.change((d) => ({ ...d, couldNotSee }))}
        hint={
          lookingSteps.some((step) => draft.answers[step]?.result === 'not-seen')
            ? 'Empty: the reasons given at the steps'
            : undefined
        }
      />
      <VisitPhotos visit={visit} />
      <Standing small />
      <div className="visit-foot">
        <Button
          kind="do"
          className="visit-next"
          isDisabled={missing.length > 0 || closing || kept.toClose}
          onPress={() => void visit.close()}
        >
          {closing ? 'Closing the visit' : 'Close the visit'}
        </Button>
      </div>
    </>
  )
}
