import type { Tree } from '@underbough/model'
import {
  type DragRecord,
  dragRecords,
  type GustRange,
  type Section,
  type Terrain,
  terrains,
} from '@underbough/wood'
import { useState } from 'react'
import { capital, NumberField, Plate, Reasons, Select, Words } from '../../look/index.ts'
import { sayMetres } from '../facts.ts'
import { Scrolled } from '../Scrolled.tsx'
import { Bench } from './Bench.tsx'
import { greyWords } from './facts.ts'
import type { KnownWood } from './species.ts'
import {
  dragOf,
  gustsOf,
  type TypedWind,
  typedWindWords,
  type WindField,
  type WindFigures,
  windDefaults,
  windFields,
  withTyped,
} from './wind.ts'

interface WindProps {
  no: number
  tree: Tree
  section: Section
  known: KnownWood
}

/** At what gusts this section's bending and weight would reach the strength of green wood: a range, with every input open to change. */
export function WindPlate({ no, tree, section, known }: WindProps) {
  const nearest = dragOf(known)
  const [typed, setTyped] = useState<Partial<Record<WindField, number | null>>>({})
  const [drag, setDrag] = useState<DragRecord>(nearest.record)
  const figures = withTyped(windDefaults(tree, section, known), typed)
  const range = gustsOf(section, figures, drag)
  return (
    <Plate no={no} title="Wind and lean" aside={`section at ${sayMetres(section.heightM)}`}>
      <Bench label="Work out wind and lean">
        {range?.ok ? (
          <Said range={range.value} section={section} />
        ) : (
          <p className="tree-flag s">
            {range ? range.refusals.map((one) => one.message).join(' ') : 'This section gives no share.'} Mend
            the figures below.
          </p>
        )}
        <div className="wood-inputs">
          {(Object.keys(windFields) as WindField[]).map((key) => (
            <Figure
              key={key}
              field={key}
              figures={figures}
              onChange={(value) => setTyped((now) => ({ ...now, [key]: value }))}
            />
          ))}
          <Select
            label="Drag of the crown, as measured on"
            value={drag.name}
            options={dragRecords.map((one) => ({ value: one.name, label: `${one.name}, ${one.cd}` }))}
            onChange={(name) => setDrag(dragRecords.find((one) => one.name === name) ?? drag)}
            hint={`${nearest.own ? '' : 'None was found for this species; choose the nearest. '}In leaf, up to ${drag.speedMps} m/s. No leafless figure was found.`}
          />
        </div>
        <Typed section={section} figures={figures} drag={drag} />
      </Bench>
    </Plate>
  )
}

function Said({ range, section }: { range: GustRange; section: Section }) {
  const grey = greyWords(section)
  return (
    <div className="prose">
      <p className={grey ? 'q' : 'b'}>{range.gusts.sentence}</p>
      <p className={grey ? 'q' : ''}>{range.relative.sentence}</p>
      <p className="q">{range.upper.sentence}</p>
      {range.sentences.map((sentence) => (
        <p key={sentence} className="q">
          {sentence}
        </p>
      ))}
      {grey ? <p className="q">{grey}</p> : null}
      <div className="s q">
        <Reasons label="Everything that went in">
          <Scrolled label="Inputs of wind and lean">
            <table>
              <thead>
                <tr>
                  <th>What</th>
                  <th className="n">Figure</th>
                  <th>How</th>
                </tr>
              </thead>
              <tbody>
                {range.inputs.map((line) => (
                  <tr key={line.name}>
                    <td>{capital(line.name)}</td>
                    <td className="n">
                      {Number(line.value.toPrecision(4)).toLocaleString('en-GB')} {line.unit}
                    </td>
                    <td>
                      {line.mark}
                      {line.source ? <div className="q">{line.source}</div> : null}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Scrolled>
          <span className="reason">Method {range.methodVersion}.</span>
        </Reasons>
      </div>
    </div>
  )
}

function Figure(props: { field: WindField; figures: WindFigures; onChange(value: number | null): void }) {
  const { name, unit } = windFields[props.field]
  const known = props.figures[props.field]
  return (
    <NumberField
      label={name}
      unit={unit}
      value={known.value}
      onChange={props.onChange}
      hint={`${known.mark}${known.source ? `: ${known.source}` : ''}`}
    />
  )
}

/** A wind that somebody brings with them: a station's gust, or the mean that wind maps for structures give. */
function Typed(props: { section: Section; figures: WindFigures; drag: DragRecord }) {
  const [wind, setWind] = useState<TypedWind>({ kind: 'gust3s', speedMps: null, terrain: 'III' })
  const words = typedWindWords(wind, props.section, props.figures, props.drag)
  return (
    <div className="wood-typed">
      <h3>A wind you have a figure for</h3>
      <Words
        label="Which kind of figure"
        value={wind.kind}
        options={[
          { value: 'gust3s', label: 'Gust over 3 seconds' },
          { value: 'meanTenMin', label: 'Mean over 10 minutes' },
        ]}
        onChange={(kind) => setWind({ ...wind, kind })}
      />
      <div className="wood-inputs">
        <NumberField
          label="Speed"
          unit="m/s"
          value={wind.speedMps}
          onChange={(speedMps) => setWind({ ...wind, speedMps })}
          hint={
            wind.kind === 'gust3s'
              ? 'As a station gives it, 10 m up.'
              : 'As wind maps for structures give it: 10 m up over low plants, once in 50 years. The gust is added here.'
          }
        />
        {wind.kind === 'meanTenMin' ? (
          <Select<Terrain>
            label="Ground around"
            value={wind.terrain}
            options={(Object.keys(terrains) as Terrain[]).map((key) => ({
              value: key,
              label: `${key}: ${terrains[key].says}`,
            }))}
            onChange={(terrain) => setWind({ ...wind, terrain })}
          />
        ) : null}
      </div>
      {words ? (
        <p className={words.ok ? 'prose' : 'tree-flag s'}>
          {words.ok ? words.value : words.refusals.map((one) => one.message).join(' ')}
        </p>
      ) : null}
    </div>
  )
}
