import { riggingCaution, riggingLoad } from '@underbough/wood'
import { useState } from 'react'
import { Field, NumberField, Plate, Reasons, refusalAt, Words } from '../../look/index.ts'
import { Bench } from './Bench.tsx'
import { type KnownWood, takenFor, woodLines, woodOf } from './species.ts'
import { comparisonWords, landingWords, type PartSaid, weightOf, weightWords } from './weight.ts'

const nothing: PartSaid = {
  lengthM: null,
  buttDiameterCm: null,
  tipDiameterCm: null,
  middleDiameterCm: null,
  heightM: null,
  leaf: 'in-leaf',
}
const figures = [
  ['lengthM', 'Length', 'm', ''],
  ['buttDiameterCm', 'Butt diameter', 'cm', ''],
  ['tipDiameterCm', 'Tip diameter', 'cm', ''],
  ['middleDiameterCm', 'Diameter half-way', 'cm', 'If measured.'],
  ['heightM', 'Height above where it lands', 'm', 'From its middle; only for how it lands.'],
] as const

/** The weight of a limb or a piece of stem, and what it does as it lands. */
export function WeightPlate({ no, species, known }: { no: number; species: string; known: KnownWood }) {
  const [said, setSaid] = useState(nothing)
  const [name, setName] = useState(species)
  const wood = name.trim() === species.trim() ? known : woodOf(name)
  const weight = weightOf(said, wood)
  const refusals = weight && !weight.ok ? weight.refusals : []
  return (
    <Plate
      no={no}
      title="Weight of a part"
      aside="a limb or a piece of stem"
      className={weight?.ok ? '' : 'wood-untold'}
    >
      <Bench label="Weigh a part">
        <div className="wood-inputs">
          {figures.map(([key, label, unit, hint]) => (
            <NumberField
              key={key}
              label={label}
              unit={unit}
              hint={hint}
              value={said[key]}
              onChange={(value) => setSaid((now) => ({ ...now, [key]: value }))}
              refusal={refusalAt(refusals, key)}
            />
          ))}
          <Field label="Species" value={name} onChange={setName} hint={takenFor(wood.match)} />
        </div>
        <Words
          label="Leaves"
          value={said.leaf}
          options={[
            { value: 'in-leaf', label: 'In leaf' },
            { value: 'out-of-leaf', label: 'Out of leaf' },
          ]}
          onChange={(leaf) => setSaid({ ...said, leaf })}
        />
        {weight?.ok ? (
          <div className="prose tree-more">
            <p className="b">{weightWords(weight.value)}</p>
            <p>{landingWords(weight.value)}</p>
            <p className="q">
              {comparisonWords(weight.value)} <i>For talking with owners, not for reports.</i>
            </p>
            <div className="s q">
              <Reasons>
                {[
                  ...weight.value.assumptions,
                  ...woodLines(wood.wood)
                    .slice(0, 1)
                    .map((line) => `${line.name}: ${line.figure}. ${line.source}.`),
                  `Volume ${weight.value.volumeM3.toPrecision(2)} m³ by ${weight.value.formula === 'newton' ? 'Newton’s formula' : 'the frustum of a cone'}.`,
                ].map((sentence) => (
                  <span key={sentence} className="reason">
                    {sentence}
                  </span>
                ))}
              </Reasons>
            </div>
            <Rigging massKg={weight.value.massKg.most} />
          </div>
        ) : weight ? null : (
          <p className="q tree-more">Length and both ends give its weight.</p>
        )}
      </Bench>
    </Plate>
  )
}

/** What a rigging point would have to hold, for planning. */
function Rigging({ massKg }: { massKg: number }) {
  const [rope, setRope] = useState<Record<'dropM' | 'ropeM' | 'ropeStiffnessKn', number | null>>({
    dropM: null,
    ropeM: null,
    ropeStiffnessKn: null,
  })
  const { dropM, ropeM, ropeStiffnessKn } = rope
  const load =
    dropM === null || ropeM === null || ropeStiffnessKn === null
      ? null
      : riggingLoad({ massKg, dropM, ropeM, ropeStiffnessKn })
  const field = (key: keyof typeof rope, label: string, unit: string, hint: string) => (
    <NumberField
      label={label}
      unit={unit}
      hint={hint}
      value={rope[key]}
      onChange={(value) => setRope((now) => ({ ...now, [key]: value }))}
      refusal={load && !load.ok ? refusalAt(load.refusals, key) : null}
    />
  )
  return (
    <div className="tree-more">
      <Reasons label="If it falls onto a rope">
        <span className="wood-inputs">
          {field('dropM', 'It falls', 'm', 'Until the rope draws tight.')}
          {field('ropeM', 'Rope in use', 'm', 'From the piece to where its end is held.')}
          {field(
            'ropeStiffnessKn',
            'Rope stiffness',
            'kN',
            'Pull over relative stretch, as its maker states it.',
          )}
        </span>
        {load?.ok ? (
          <span className="reason">
            <b>
              The rope peaks at about {load.value.ropePeakKn.toPrecision(2)} kN and the point must hold about{' '}
              {load.value.pointPeakKn.toPrecision(2)} kN
            </b>
            , for the most it may weigh; hanging still {load.value.hangingKn.toPrecision(2)} kN.
          </span>
        ) : null}
        {(load?.ok ? load.value.cautions : [riggingCaution]).map((sentence) => (
          <span key={sentence} className="reason">
            {sentence}
          </span>
        ))}
      </Reasons>
    </div>
  )
}
