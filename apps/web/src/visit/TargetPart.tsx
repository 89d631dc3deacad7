import { consequenceWords, impactWords, type PartSizeWord, protectionWords } from '@underbough/model'
import { useState } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Button, Field, Select } from '../look/index.ts'
import { type Near, type TargetDraft, targetDraft, withProtection } from './judgement.ts'
import { WordRow } from './pieces.tsx'

const useWords = {
  rare: 'rarely used',
  occasional: 'used now and then',
  frequent: 'used often',
  constant: 'in use always',
} as const

/** What a failing part would meet: proposed from the zone's use, changed with a reason. Closed it is one line. */
export function TargetPart(props: {
  target: TargetDraft
  label: string
  near: readonly Near[]
  size: PartSizeWord
  /** What the figures ask where they lie far from the word; null where they do not. */
  asked: string | null
  refusalFor(path: string): string | null
  onChange(target: TargetDraft): void
  onTakeOut(): void
}) {
  const { target, label, near, size, asked, refusalFor, onChange, onTakeOut } = props
  const [isOpen, setOpen] = useState(false)
  const differs = target.impact !== target.proposedImpact
  const needsReason = differs && !target.impactReason.trim()
  const open = isOpen || needsReason || refusalFor('impactReason') !== null
  const choices = near.some((n) => n.zoneId === target.zoneId)
    ? near
    : [
        { zoneId: target.zoneId, name: target.targetName, word: target.occupancy, kind: null, distanceM: 0 },
        ...near,
      ]
  return (
    <section className="target" aria-label={label}>
      <AriaButton className="target-head" aria-expanded={open} onPress={() => setOpen(!isOpen)}>
        <b>{target.targetName}</b>
        <span>
          impact {target.impact}
          {differs ? ` (proposed ${target.proposedImpact})` : ''},{' '}
          {target.consequences ?? 'consequences open'}
        </span>
      </AriaButton>
      {asked ? <p className="tree-flag s">{asked}</p> : null}
      {open ? (
        <div className="target-body">
          <Select
            label="Target"
            value={target.zoneId ?? 'none'}
            options={choices.map((n) => ({
              value: n.zoneId ?? 'none',
              label: n.name,
              hint: n.zoneId ? useWords[n.word] : '',
            }))}
            onChange={(key) => {
              const chosen = near.find((n) => n.zoneId === key)
              if (chosen) onChange(targetDraft(chosen, size))
            }}
          />
          {target.zoneId === null ? (
            <Field
              label="Its name"
              value={target.targetName}
              onChange={(targetName) => onChange({ ...target, targetName })}
              refusal={refusalFor('targetName')}
            />
          ) : null}
          <WordRow
            label="Something stands between"
            words={protectionWords}
            value={target.protection}
            onChange={(protection) => onChange(withProtection(target, protection))}
            say={(word) => ({ none: 'nothing', partial: 'something', full: 'enough to stop it' })[word]}
          />
          <WordRow
            label="Impact"
            words={impactWords}
            value={target.impact}
            proposed={target.proposedImpact}
            onChange={(impact) => onChange({ ...target, impact })}
          />
          {differs ? (
            <Field
              label="Why it differs from the proposal"
              value={target.impactReason}
              onChange={(impactReason) => onChange({ ...target, impactReason })}
              refusal={
                needsReason
                  ? `The proposal is ${target.proposedImpact}; say why you put ${target.impact}.`
                  : refusalFor('impactReason')
              }
            />
          ) : null}
          <WordRow
            label="Consequences"
            words={consequenceWords}
            value={target.consequences}
            onChange={(consequences) => onChange({ ...target, consequences })}
          />
          <Button kind="quiet" onPress={onTakeOut}>
            Take this target out
          </Button>
        </div>
      ) : null}
    </section>
  )
}
