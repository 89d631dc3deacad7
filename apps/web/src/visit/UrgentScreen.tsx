import type { UrgentNoteInput } from '@underbough/model'
import { useState } from 'react'
import { Button, Field, Notice, refusalAt } from '../look/index.ts'
import { isUrgent } from './judgement.ts'
import { Chip, WordRow } from './pieces.tsx'
import type { ScreenProps } from './screen.ts'

const ways = ['by telephone', 'in person', 'by radio', 'by message'] as const
const localTime = (instant: string) => {
  const at = new Date(instant)
  return `${String(at.getHours()).padStart(2, '0')}:${String(at.getMinutes()).padStart(2, '0')}`
}
/** The same day at another time of this device's clock. */
function atTime(instant: string, time: string): string {
  const [hours, minutes] = time.split(':').map(Number)
  const at = new Date(instant)
  if (hours === undefined || minutes === undefined || Number.isNaN(hours + minutes)) return instant
  at.setHours(hours, minutes, 0, 0)
  return at.toISOString()
}

/** Imminent or extreme: people first. Stands alone on the screen until it is written or the words are taken back. */
export function UrgentScreen({ visit, go }: ScreenProps) {
  const { draft, refusals } = visit
  const [note, setNote] = useState<UrgentNoteInput>(
    () =>
      draft.urgentNote ?? {
        id: crypto.randomUUID(),
        treeId: draft.treeId,
        visitId: draft.id,
        keptOut: false,
        toldWhom: '',
        toldHow: '',
        toldAt: new Date().toISOString(),
        interimClosure: '',
      },
  )
  const [asked, setAsked] = useState(draft.urgentNote !== null)
  const set = (part: Partial<UrgentNoteInput>) => setNote({ ...note, ...part })
  const missing = !asked || !note.toldWhom.trim() || !note.toldHow.trim()
  const forced = isUrgent(draft.rating)
  const at = (field: string) => refusalAt(refusals, `urgentNote.${field}`) ?? refusalAt(refusals, field)
  const back = () => go(draft.rating ? 'rating' : 'stem')
  const write = async () => {
    visit.change((d) => ({ ...d, urgentNote: note, screen: d.rating ? 'rating' : 'stem' }))
    await visit.tellUrgent()
  }
  return (
    <div className="urgent-screen">
      <h1 tabIndex={-1}>Urgent: keep people out first</h1>
      <p className="prose">
        <b>{forced ? 'A part is failing or the risk is extreme.' : 'Somebody is in danger.'}</b> Stand clear
        yourself. Keep people away, tell whoever can close the place, then write it here. Call the emergency
        services where the local rule says so.
      </p>
      <WordRow
        label="People are kept out"
        words={['yes', 'not yet'] as const}
        value={asked ? (note.keptOut ? 'yes' : 'not yet') : null}
        onChange={(word) => {
          setAsked(true)
          set({ keptOut: word === 'yes' })
        }}
      />
      <Field
        label="Who was told"
        value={note.toldWhom}
        onChange={(toldWhom) => set({ toldWhom })}
        refusal={at('toldWhom')}
        isRequired
      />
      <div>
        <div className="chips">
          {ways.map((way) => (
            <Chip key={way} chosen={note.toldHow === way} onPress={() => set({ toldHow: way })}>
              {way}
            </Chip>
          ))}
        </div>
        <Field
          label="How"
          value={note.toldHow}
          onChange={(toldHow) => set({ toldHow })}
          refusal={at('toldHow')}
          isRequired
        />
      </div>
      <Field
        label="When"
        type="time"
        value={localTime(note.toldAt)}
        onChange={(time) => set({ toldAt: atTime(note.toldAt, time) })}
        refusal={at('toldAt')}
      />
      <Field
        label="Closed for now"
        multiline
        value={note.interimClosure}
        onChange={(interimClosure) => set({ interimClosure })}
        hint="What is taped off or shut, and until when"
        refusal={at('interimClosure')}
      />
      {missing ? (
        <p className="q">
          Still to say:{' '}
          {[
            asked ? null : 'whether people are kept out',
            note.toldWhom.trim() ? null : 'who was told',
            note.toldHow.trim() ? null : 'how',
          ]
            .filter(Boolean)
            .join(', ')}
          .
        </p>
      ) : null}
      {draft.urgentNote && !visit.urgentSent ? (
        <Notice tone="mind" title="Written on this device.">
          It goes to the office by itself when there is signal. Until then only you know.
        </Notice>
      ) : null}
      <div className="visit-foot">
        <Button className="visit-photo" onPress={back}>
          {forced ? 'Not so: the words' : 'Back'}
        </Button>
        <Button kind="do" className="visit-next" isDisabled={missing} onPress={() => void write()}>
          Send the urgent note
        </Button>
      </div>
    </div>
  )
}
