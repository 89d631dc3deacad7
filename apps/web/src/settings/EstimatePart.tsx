import { type CivilDate, failureWords } from '@underbough/model'
import { assessorsDiffer, checkBands, startingVulnerability } from '@underbough/rating'
import { useState } from 'react'
import { refusalsOf } from '../api/index.ts'
import {
  Button,
  ErrorNote,
  Field,
  Loading,
  Notice,
  Plate,
  Refusals,
  refusalAt,
  Standing,
  sayDate,
} from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { EstimateCheckPlate } from './EstimateCheckPlate.tsx'
import { EstimateUsersPlate, ExposedPlate, type UserDraft } from './EstimateUsers.tsx'
import {
  type Decided,
  type EstimateDecision,
  type EstimateState,
  useDecide,
  useEstimate,
  useEstimateCheck,
} from './estimateHooks.ts'
import { sayBand, sayFailures } from './estimateWords.ts'
import './estimate.css'

const LEAST_LETTERS = 20

/** What is expected per year: off until a manager decides in writing, and only where our own failures agree. */
export function EstimatePart() {
  const estimate = useEstimate()
  if (estimate.error)
    return (
      <ErrorNote
        title="The estimate cannot be fetched."
        error={estimate.error}
        action={<Button onPress={() => estimate.refetch()}>Try again</Button>}
      />
    )
  if (!estimate.data) return <Loading>Fetching the estimate.</Loading>
  const newest = estimate.data.decisions[0]
  return (
    <div className="estimate-part">
      <Stand state={estimate.data} />
      {estimate.data.on ? <ExposedPlate users={estimate.data.users} /> : null}
      {newest?.on ? (
        <SwitchOff newest={newest} />
      ) : (
        <SwitchOn key={newest?.number ?? 0} state={estimate.data} />
      )}
      <History decisions={estimate.data.decisions} />
      <Standing />
    </div>
  )
}

function Stand({ state: { on, decisions, agreement } }: { state: EstimateState }) {
  const newest = decisions[0]
  return (
    <div className="estimate-stand">
      <p className="prose">
        The estimate says how many people a year would be within the outline of something that fails, as a
        range. It is for ranking one’s own trees and zones against each other, and for totals. It is no
        chance, it is not about harm, and it says nothing for one tree alone. {assessorsDiffer}
      </p>
      {on ? (
        <Notice tone="kept" title="On.">
          Decided by {newest!.madeBy}, {sayDate(newest!.madeAt.slice(0, 10))}. Hotspots can be ranked by it,
          and trees show it to the office.
        </Notice>
      ) : newest?.on ? (
        <Notice tone="refused" title="Held back.">
          It was decided on, and failures since then speak against its bands. {agreement?.refusal?.message}{' '}
          Decide anew, or switch it off.
        </Notice>
      ) : (
        <Notice tone="mind" title="Off.">
          {newest
            ? `Switched off by ${newest.madeBy}, ${sayDate(newest.madeAt.slice(0, 10))}.`
            : 'Nobody has decided to use it.'}{' '}
          Without it, hotspots are ranked by people under a fall and by rating.
        </Notice>
      )}
    </div>
  )
}

function SwitchOn({ state }: { state: EstimateState }) {
  const me = usePerson()
  const decide = useDecide()
  const before = state.decisions.find(({ decided }) => decided)?.decided
  const [bands, setBands] = useState(before?.bands ?? state.startingBands)
  const [since, setSince] = useState<CivilDate | null>(before?.recordsSince ?? null)
  const [vulnerability, setVulnerability] = useState(before?.vulnerability ?? startingVulnerability)
  const [users, setUsers] = useState<UserDraft[]>(before?.users ?? [])
  const [text, setText] = useState('')
  const check = useEstimateCheck(checkBands(bands).length === 0 ? bands : null, since)
  const agrees = check.data !== undefined && !check.isPlaceholderData && check.data.agreement.refusal === null
  const whole = users.every(({ who, zoneId, hoursPerYear }) => who.trim() && zoneId && hoursPerYear !== null)
  const refusals = refusalsOf(decide.error)
  const send = () =>
    decide.mutate({
      number: (state.decisions[0]?.number ?? 0) + 1,
      on: true,
      text,
      decided: {
        bands,
        vulnerability,
        users: users as Decided['users'],
        recordsSince: since ?? check.data!.since,
      },
    })
  return (
    <>
      <EstimateCheckPlate bands={bands} since={since} onBands={setBands} onSince={setSince} />
      <EstimateUsersPlate
        users={users}
        vulnerability={vulnerability}
        refusals={refusals}
        onUsers={setUsers}
        onVulnerability={setVulnerability}
      />
      <Plate title="The decision">
        {me.role === 'manager' ? (
          <div className="estimate-decide">
            <Field
              label="The decision in words: who decided, for what use, and why"
              multiline
              value={text}
              hint="Kept for ever with your name, the day, the bands and how they stood against the failures."
              refusal={refusalAt(refusals, 'text')}
              onChange={setText}
            />
            <Refusals title="It stays off." refusals={refusals} kept="Nothing was decided." />
            <div className="row c wrap">
              <Button
                kind="do"
                isDisabled={!agrees || !whole || text.trim().length < LEAST_LETTERS || decide.isPending}
                onPress={send}
              >
                Switch it on
              </Button>
              <span className="s q">
                {!agrees
                  ? 'Not while the bands and our own failures disagree.'
                  : !whole
                    ? 'Somebody named above lacks a place or hours.'
                    : text.trim().length < LEAST_LETTERS
                      ? 'The decision must be written first.'
                      : ''}
              </span>
            </div>
          </div>
        ) : (
          <p className="q">
            Only a manager of {me.organisation.name} decides this. You may look at the check.
          </p>
        )}
      </Plate>
    </>
  )
}

function SwitchOff({ newest }: { newest: EstimateDecision }) {
  const me = usePerson()
  const decide = useDecide()
  const [text, setText] = useState('')
  const refusals = refusalsOf(decide.error)
  return (
    <Plate title="Switch it off">
      {me.role === 'manager' ? (
        <div className="estimate-decide">
          <Field
            label="The decision in words, with its reason"
            multiline
            value={text}
            hint="To use other bands, switch it off first and then decide anew."
            refusal={refusalAt(refusals, 'text')}
            onChange={setText}
          />
          <Refusals title="It was not switched off." refusals={refusals} />
          <div className="row c wrap">
            <Button
              isDisabled={text.trim().length < LEAST_LETTERS || decide.isPending}
              onPress={() => decide.mutate({ number: newest.number + 1, on: false, text, decided: null })}
            >
              Switch it off
            </Button>
          </div>
        </div>
      ) : (
        <p className="q">Only a manager of {me.organisation.name} decides this.</p>
      )}
    </Plate>
  )
}

function History({ decisions }: { decisions: readonly EstimateDecision[] }) {
  if (decisions.length === 0) return null
  return (
    <Plate title="Decisions" aside="kept for ever">
      <ol className="estimate-history">
        {decisions.map(({ number, on, text, madeBy, madeAt, decided, agreement }) => (
          <li key={number}>
            <p>
              <b>
                {number}. {on ? 'On' : 'Off'}
              </b>
              , {madeBy}, {sayDate(madeAt.slice(0, 10))}
            </p>
            <p className="prose">{text}</p>
            {decided ? (
              <p className="s q">
                Bands {decided.bands.edition}:{' '}
                {failureWords.map((word) => `${word} ${sayBand(decided.bands.words[word])}`).join('; ')}.
                {agreement
                  ? ` Then predicted ${sayFailures(agreement.predicted.least)} to ${sayFailures(agreement.predicted.most)}, recorded ${agreement.failures}, since ${sayDate(decided.recordsSince)}.`
                  : ''}
              </p>
            ) : null}
          </li>
        ))}
      </ol>
    </Plate>
  )
}
