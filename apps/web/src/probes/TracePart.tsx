import type { Outcome } from '@underbough/model'
import { type DepthUnit, sniffTrace, type TraceGuess } from '@underbough/wood'
import { useMemo } from 'react'
import { Field, Refusals, Select } from '../look/index.ts'
import { WordRow } from '../visit/pieces.tsx'
import { BordersBench } from './BordersBench.tsx'
import { CommitField } from './CommitField.tsx'
import { type PartProps, partOf } from './part.ts'
import { TraceFaults } from './TraceFaults.tsx'
import { TraceStand } from './TraceStand.tsx'
import { TraceText } from './TraceText.tsx'
import { columnsOf } from './trace.ts'
import { useTrace } from './useTrace.ts'

const unitNames: Readonly<Record<DepthUnit, string>> = { mm: 'mm', cm: 'cm', in: 'inches' }
const units = Object.keys(unitNames) as DepthUnit[]
/** A trace from its file: what is in which column, faults by row, and borders to take or to leave as proposed. */
export function TracePart({ handle }: PartProps) {
  const { own, set, at } = partOf(handle, 'trace')
  const guess = useMemo<Outcome<TraceGuess> | null>(() => (own.raw ? sniffTrace(own.raw) : null), [own.raw])
  const trace = useTrace(own.raw, columnsOf(own), own.barkCm)
  const take = (raw: string, fileName: string) => {
    const seen = raw ? sniffTrace(raw) : null
    set({
      raw,
      fileName,
      borders: null,
      stand: null,
      // A new text may be laid out otherwise; what it says of itself is proposed, its unit of depth only named.
      ...(seen?.ok
        ? {
            depthUnit: null,
            depthColumn: seen.value.depthColumn,
            resistanceColumn: seen.value.resistanceColumn,
            resistanceUnit: seen.value.resistanceUnit ?? own.resistanceUnit,
          }
        : {}),
    })
  }
  return (
    <>
      <TraceText own={own} onText={take} refusal={at('reading.raw')} />
      {guess && !guess.ok ? <TraceFaults raw={own.raw} refusals={guess.refusals} /> : null}
      {guess?.ok ? (
        <fieldset className="reading-part">
          <legend>What the columns are</legend>
          <p className="s q">{guess.value.rows} rows. The first of them:</p>
          <pre className="trace-head">
            {own.raw
              .trimStart()
              .split(/\r\n|\n|\r/, 5)
              .join('\n')
              .slice(0, 400)}
          </pre>
          <div className="two">
            <Select
              label="Depth stands in"
              value={String(own.depthColumn)}
              options={columnChoices(guess.value)}
              onChange={(column) => set({ depthColumn: Number(column), borders: null, stand: null })}
              refusal={at('reading.depthColumn')}
            />
            <Select
              label="Resistance stands in"
              value={String(own.resistanceColumn)}
              options={columnChoices(guess.value)}
              onChange={(column) => set({ resistanceColumn: Number(column), borders: null, stand: null })}
              refusal={at('reading.resistanceColumn')}
            />
          </div>
          <WordRow
            label="Depth is written in"
            words={units}
            value={own.depthUnit}
            proposed={guess.value.depthUnit}
            onChange={(depthUnit) => set({ depthUnit, borders: null, stand: null })}
            say={(unit) => unitNames[unit]}
          />
          {own.depthUnit === null ? (
            <p
              className={at('reading.depthUnit') ? 'field-refusal' : 's q'}
              data-refused={at('reading.depthUnit') ? '' : undefined}
              tabIndex={-1}
            >
              Confirm the unit:{' '}
              {guess.value.depthUnit ? 'the header names one, and' : 'the header names none, and'} a wrong one
              moves every border.
            </p>
          ) : null}
          <div className="two">
            <Field
              label="Unit of the resistance"
              value={own.resistanceUnit}
              onChange={(resistanceUnit) => set({ resistanceUnit })}
              refusal={at('reading.resistanceUnit')}
              hint="as the instrument states it: % of full scale"
              isRequired
            />
            <CommitField
              label="Measured bark"
              unit="cm"
              value={own.barkCm}
              onCommit={(barkCm) => set({ barkCm, borders: null, stand: null })}
              refusal={at('reading.barkCm')}
              hint="at the entry, where you have it"
            />
          </div>
        </fieldset>
      ) : null}
      {guess?.ok && trace && !trace.ok ? <TraceFaults raw={own.raw} refusals={trace.refusals} /> : null}
      {trace?.ok ? (
        <fieldset className="reading-part">
          <legend>Borders</legend>
          <p>
            The program proposes where the wood changes. Move what you know better; nobody but you can say
            that they hold.
          </p>
          <Refusals title="Read with a remark." refusals={trace.notes} />
          <BordersBench
            label={handle.values.label}
            resistanceUnit={own.resistanceUnit}
            proposal={trace.value.proposal}
            endCm={trace.value.endCm}
            now={own.borders ?? trace.value.proposal}
            accepted={own.stand === 'accepted'}
            onChange={(borders) => set({ borders, stand: null })}
            refusals={handle.refusals}
          />
          <TraceStand
            stand={own.stand}
            hasBark={(own.borders ?? trace.value.proposal).barkCm !== null}
            moved={own.borders !== null}
            onStand={(stand) => set({ stand })}
            refusal={at('reading.stand')}
          />
        </fieldset>
      ) : null}
    </>
  )
}

const columnChoices = ({ columns }: TraceGuess) =>
  columns.map((name, i) => ({
    value: String(i),
    label: name ? `Column ${i + 1}: ${name}` : `Column ${i + 1}`,
  }))
