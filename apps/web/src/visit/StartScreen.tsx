import { leafStates, today } from '@underbough/model'
import { useState } from 'react'
import { Button, Field, Notice, NumberField, refusalAt, Select, sayDate, Tick } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { type Draft, firstOpen } from './draft.ts'
import { oneTap, wishOneTap } from './oneTap.ts'
import { WordRow } from './pieces.tsx'
import { sayQualification } from './qualification.ts'
import type { ScreenProps } from './screen.ts'

const leafNames = {
  'in-leaf': 'In leaf',
  'out-of-leaf': 'Out of leaf',
  'part-leaf': 'Partly in leaf',
  evergreen: 'Evergreen',
} as const
const levelWords = { 1: '1 limited', 2: '2 basic', 3: '3 advanced' } as const

/** What the visit is for, filled from the last one: without it the words of a rating mean nothing. */
export function StartScreen({ visit, go }: ScreenProps) {
  const { draft, kept, refusals } = visit
  const { whole } = kept.ground
  const [fast, setFast] = useState(oneTap)
  const set = (part: Partial<Draft['assignment']>) =>
    visit.change((d) => ({ ...d, assignment: { ...d.assignment, ...part } }))
  const { assignment } = draft
  const last = whole.visits.find((v) => v.stage === 'closed')
  const at = (field: string) =>
    refusalAt(refusals, `visit.assignment.${field}`) ?? refusalAt(refusals, `assignment.${field}`)
  const me = usePerson()
  const qualification = sayQualification(me, today(me.organisation.timeZone))
  const isLimited = assignment.level === 1
  const begun = Object.keys(draft.answers).length > 0
  return (
    <>
      <h1 tabIndex={-1}>{begun ? 'What this visit is for' : `Visit to ${whole.tree.tag}`}</h1>
      <p className="q">
        {last
          ? `Last look ${sayDate(last.startedAt.slice(0, 10))} by ${last.personName}. What is below stands from then; change what differs.`
          : 'Nobody has looked at this tree yet.'}
      </p>
      {qualification.minds ? (
        <Notice tone="mind" title={qualification.words}>
          {' '}
          The visit can be made; it will be read back when you close it.
        </Notice>
      ) : null}
      {whole.tree.powerLinesNear ? (
        <p className="visit-caution">
          Power lines are near: keep clear, and let nobody work here before their owner has spoken.
        </p>
      ) : null}
      <WordRow
        label="Level"
        words={['1', '2', '3'] as const}
        value={String(assignment.level) as '1' | '2' | '3'}
        onChange={(level) => set({ level: Number(level) as 1 | 2 | 3 })}
        say={(level) => levelWords[Number(level) as 1 | 2 | 3]}
      />
      <Field
        label="Why this level"
        multiline
        value={assignment.levelReason}
        onChange={(levelReason) => set({ levelReason })}
        refusal={at('levelReason')}
      />
      <Field
        label="Scope"
        value={assignment.scope}
        onChange={(scope) => set({ scope })}
        refusal={
          at('scope') ??
          (assignment.scope.trim() ? null : 'Say what is looked at: one tree, a group, a part.')
        }
        isRequired
      />
      <Field
        label="Targets as stated"
        multiline
        value={assignment.targets}
        onChange={(targets) => set({ targets })}
        refusal={at('targets') ?? (assignment.targets.trim() ? null : 'Name who or what may be hit.')}
        isRequired
      />
      <div className="two">
        <NumberField
          label="Time frame"
          unit="years, 1 to 5"
          value={assignment.timeFrameYears}
          onChange={(years) => set({ timeFrameYears: Math.min(5, Math.max(1, Math.round(years ?? 1))) })}
          refusal={at('timeFrameYears')}
        />
        <Select
          label="Leaves"
          value={draft.leafState}
          options={leafStates.map((value) => ({ value, label: leafNames[value] }))}
          onChange={(leafState) => visit.change((d) => ({ ...d, leafState }))}
        />
      </div>
      <Field
        label="Limits"
        multiline
        value={assignment.limits}
        onChange={(limits) => set({ limits })}
        refusal={at('limits')}
      />
      <Field
        label="Weather"
        value={draft.weather}
        onChange={(weather) => visit.change((d) => ({ ...d, weather }))}
        refusal={refusalAt(refusals, 'visit.weather')}
        hint="In a few words: dry, wind from the west"
      />
      {isLimited ? null : (
        <Tick
          isSelected={fast}
          onChange={(on) => {
            wishOneTap(on)
            setFast(on)
          }}
        >
          One tap answers a step and goes on to the next
        </Tick>
      )}
      <div className="visit-foot">
        <Button
          kind="do"
          className="visit-next"
          isDisabled={!assignment.scope.trim() || !assignment.targets.trim()}
          onPress={() => go(begun ? (firstOpen(draft) ?? 'surroundings') : 'surroundings')}
        >
          {begun ? 'Go on looking' : isLimited ? 'Begin the limited look' : 'Begin with the surroundings'}
        </Button>
      </div>
    </>
  )
}
