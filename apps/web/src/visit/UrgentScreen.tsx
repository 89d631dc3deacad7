import type { Tree } from '@underbough/model'
import { useState } from 'react'
import { Button, Field, KeepingState, Notice, refusalAt } from '../look/index.ts'
import { movePhotos, PhotoNews, PhotoPress, PhotoStrip, usePhotos, useTaking } from '../photos/index.ts'
import { useContacts } from './contacts.ts'
import { isUrgent } from './judgement.ts'
import { WordRow } from './pieces.tsx'
import type { ScreenProps } from './screen.ts'
import { ToldPart } from './ToldPart.tsx'
import { takeBackNote } from './takeBackNote.ts'
import { newUrgent, nobodyTold, noteOf, stillToSay, telephoneAddress, type UrgentBegun } from './told.ts'
import './urgent.css'

/** Imminent or extreme: people first. Stands alone on the screen until it is written or the words are taken back. */
export function UrgentScreen({ visit, go }: ScreenProps) {
  const { draft, refusals } = visit
  const { tree } = visit.kept.ground.whole
  const [first] = useState(() => newUrgent(crypto.randomUUID(), new Date().toISOString()))
  const begun = draft.urgentBegun ?? first
  const set = (part: Partial<UrgentBegun>) =>
    visit.change((d) => ({ ...d, urgentBegun: { ...(d.urgentBegun ?? first), ...part } }))
  const missing = stillToSay(begun)
  const forced = isUrgent(draft.rating)
  const at = (field: string) => refusalAt(refusals, `urgentNote.${field}`) ?? refusalAt(refusals, field)
  const note = noteOf(begun, draft.treeId, draft.id)
  const isWritten = draft.urgentNote !== null && JSON.stringify(draft.urgentNote) === JSON.stringify(note)
  const back = draft.urgentFrom ?? (draft.rating ? 'rating' : 'stem')
  const write = async () => {
    visit.change((d) => ({ ...d, urgentNote: note }))
    await visit.tellUrgent()
  }
  // Photos of a note that is not written would wait for it for ever.
  const leave = () => {
    if (!draft.urgentNote)
      void movePhotos(begun.id, { ownerKind: 'visit', ownerId: draft.id }).catch(() => {})
    go(forced ? 'rating' : back)
  }
  const takeBack = async () => {
    if (!(await takeBackNote(begun.id, draft.id))) return
    visit.change((d) => ({ ...d, urgentNote: null, urgentBegun: null }))
    go(back)
  }
  const told = (whom: string) => {
    const one = { whom, how: 'by telephone', at: new Date().toISOString() }
    set({ told: [...begun.told.filter((t) => t.whom.trim() || t.how.trim()), one] })
  }
  return (
    <div className="urgent-screen">
      <h1 tabIndex={-1}>Urgent: keep people out first</h1>
      <Cautions forced={forced} tree={tree} reachM={visit.kept.ground.exposure?.reachM ?? tree.heightM} />
      <WordRow
        label="People are kept out"
        words={['yes', 'not yet'] as const}
        value={begun.keptOut === null ? null : begun.keptOut ? 'yes' : 'not yet'}
        onChange={(word) => set({ keptOut: word === 'yes' })}
      />
      <Contacts tree={tree} onCall={told} />
      <ToldPart
        told={begun.told}
        onChange={(rows) => set({ told: rows })}
        onMore={() => set({ told: [...begun.told, nobodyTold(new Date().toISOString())] })}
        refusalFor={at}
      />
      <Closure begun={begun} set={set} visit={visit} refusal={at('interimClosure')} />
      {missing.length > 0 ? <p className="q">Still to say: {missing.join(', ')}.</p> : null}
      {isWritten ? (
        <Notice tone={visit.urgentSent ? 'kept' : 'mind'}>
          <KeepingState keeping={visit.urgentSent ? 'in-the-office' : 'on-this-phone'}>
            {visit.urgentSent ? 'At the office' : 'On this phone'}
          </KeepingState>{' '}
          {visit.urgentSent
            ? 'It stands on every page of the officer and the manager until one of them has acted.'
            : 'It goes first of all as soon as there is signal. Until then only those you told know.'}
        </Notice>
      ) : null}
      {draft.urgentNote && !visit.urgentSent && !forced ? (
        <Button kind="quiet" onPress={() => void takeBack()}>
          Take this note back
        </Button>
      ) : null}
      <div className="visit-foot">
        <Button className="visit-photo" onPress={leave}>
          {forced ? 'Not so: the words' : 'Back'}
        </Button>
        {isWritten ? (
          <Button kind="do" className="visit-next" onPress={() => go(back)}>
            Go on with the visit
          </Button>
        ) : (
          <Button
            kind="do"
            className="visit-next"
            isDisabled={missing.length > 0}
            onPress={() => void write()}
          >
            {draft.urgentNote ? 'Send the changed note' : 'Send the urgent note'}
          </Button>
        )}
      </div>
    </div>
  )
}

/** Common practice, no source: the usual order under a tree that may come down. */
function Cautions({ forced, tree, reachM }: { forced: boolean; tree: Tree; reachM: number | null }) {
  return (
    <>
      <p className="prose">
        <b>{forced ? 'A part may fail at any time, or the risk is extreme.' : 'Somebody is in danger.'}</b>
      </p>
      <ol className="urgent-cautions">
        <li>Stand clear yourself. If anybody is hurt or trapped, call the emergency services first.</li>
        <li>
          Keep people out of its reach
          {reachM ? `, taken as ${Math.round(reachM)}\u00a0m; parts can land beyond it` : ''}. Close roads and
          railways only through those who may.
        </li>
        <li>
          {tree.powerLinesNear
            ? 'Power lines are near: stay away from them and from whatever touches them, and call their owner.'
            : 'Stay away from any line that is down or touched, and call its owner.'}
        </li>
        <li>Follow the local rule where it says otherwise.</li>
      </ol>
    </>
  )
}

/** The people to call for this tree's site; for a tree of no site, those of all sites. */
function Contacts({ tree, onCall }: { tree: Tree; onCall(whom: string): void }) {
  const sites = useContacts()
  const its = sites?.filter(({ id }) => tree.siteId === null || id === tree.siteId) ?? []
  const contacts = its.flatMap((site) =>
    site.contacts.map((contact) => ({ contact, site: its.length > 1 ? site.name : null })),
  )
  return (
    <section aria-labelledby="urgent-call">
      <h2 id="urgent-call">Call</h2>
      {contacts.length === 0 ? (
        <p className="q">
          {sites
            ? 'Nobody is entered for this site. An officer enters its people under Settings, Sites.'
            : 'The site’s people are not on this phone.'}{' '}
          Call whoever can close the place.
        </p>
      ) : (
        <ul className="urgent-contacts">
          {contacts.map(({ contact, site }) => (
            <li key={`${contact.name} ${contact.telephone}`}>
              <div>
                <b>{contact.name}</b>
                <div className="q">{[contact.role, site, contact.note].filter(Boolean).join(', ')}</div>
              </div>
              <a
                className="press"
                href={telephoneAddress(contact.telephone)}
                onClick={() => onCall(contact.name)}
              >
                Call {contact.telephone}
              </a>
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}
function Closure(props: {
  begun: UrgentBegun
  set(part: Partial<UrgentBegun>): void
  visit: ScreenProps['visit']
  refusal: string | null
}) {
  const { begun, set, visit, refusal } = props
  const { draft, kept } = visit
  const about = {
    authorId: draft.personId,
    treeId: draft.treeId,
    label: `Photo at ${kept.ground.whole.tree.tag}: closed for now`,
  }
  const photos = usePhotos(draft.treeId, [begun.id])
  const taking = useTaking({ ownerKind: 'urgent-note', ownerId: begun.id }, 'Closed for now', about)
  return (
    <section className="urgent-closure" aria-labelledby="urgent-closed">
      <h2 id="urgent-closed">Closed for now</h2>
      <Field
        label="What is taped off or shut, and until when"
        multiline
        value={begun.interimClosure}
        onChange={(interimClosure) => set({ interimClosure })}
        refusal={refusal}
      />
      <PhotoStrip photos={photos} about={about} of="Closed for now" />
      <PhotoNews taking={taking} />
      <div>
        <PhotoPress taking={taking} from="camera" label="Photo of what is closed">
          Photo of what is closed
        </PhotoPress>
      </div>
    </section>
  )
}
