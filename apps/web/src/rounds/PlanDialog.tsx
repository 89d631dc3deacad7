import { addDays, type CivilDate } from '@underbough/model'
import { useState } from 'react'
import { type Crew, refusalsOf, useMakePlan, useSites } from '../api/index.ts'
import { Button, Dialog, Field, NumberField, Refusals, refusalAt, Select, Tick } from '../look/index.ts'

interface PlanDialogProps {
  crews: readonly Crew[]
  today: CivilDate | null
  onClose(): void
  onMade(plan: { planId: string; jobId: string }): void
}

const DEFAULT_DAYS = 10

/** What a plan is asked for: from when, how many working days, which crews, which ground. */
export function PlanDialog({ crews, today, onClose, onMade }: PlanDialogProps) {
  const [from, setFrom] = useState(today ? addDays(today, 1) : '')
  const [days, setDays] = useState<number | null>(DEFAULT_DAYS)
  const [chosen, setChosen] = useState(() => new Set(crews.map((crew) => crew.id)))
  const [siteId, setSiteId] = useState('all')
  const [seed, setSeed] = useState<number | null>(1)
  const sites = useSites()
  const make = useMakePlan()
  const refusals = refusalsOf(make.error)
  const go = () =>
    make.mutate(
      {
        from,
        days: days ?? DEFAULT_DAYS,
        crewIds: [...chosen],
        siteId: siteId === 'all' ? null : siteId,
        seed: seed ?? 1,
      },
      { onSuccess: onMade },
    )
  return (
    <Dialog
      title="Plan rounds"
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button kind="do" isDisabled={make.isPending || chosen.size === 0 || !from} onPress={go}>
            Plan these days
          </Button>
          <Button onPress={onClose}>Not now</Button>
        </>
      }
    >
      <Field
        label="First day"
        type="date"
        value={from}
        onChange={setFrom}
        refusal={refusalAt(refusals, 'from')}
      />
      <NumberField
        label="How long"
        unit="working days"
        value={days}
        onChange={setDays}
        refusal={refusalAt(refusals, 'days')}
      />
      <fieldset className="plan-crews">
        <legend className="field-label">Crews</legend>
        {crews.map((crew) => (
          <Tick
            key={crew.id}
            isSelected={chosen.has(crew.id)}
            onChange={(on) =>
              setChosen(new Set(on ? [...chosen, crew.id] : [...chosen].filter((id) => id !== crew.id)))
            }
          >
            {`${crew.name}, level ${crew.level}`}
          </Tick>
        ))}
      </fieldset>
      <Select
        label="Ground"
        value={siteId}
        onChange={setSiteId}
        options={[
          { value: 'all', label: 'All sites' },
          ...(sites.data ?? []).map((site) => ({ value: site.id, label: site.name })),
        ]}
      />
      <NumberField
        label="Seed"
        unit="whole number"
        value={seed}
        onChange={setSeed}
        hint="The same seed on the same day makes the same plan."
      />
      <Refusals
        title="The plan was not made."
        refusals={refusals}
        kept="Earlier plans are kept as they were."
      />
    </Dialog>
  )
}
