import type { Probe, ProbeOf } from '@underbough/model'
import { SoundingRings, soundingCaption } from '@underbough/pictures'
import type { GreenWoodOf } from '@underbough/wood'
import { Facts, Plate, Reasons, sayDate } from '../../look/index.ts'
import { textScaleOf, useWidth } from '../useWidth.ts'
import { FractureWords } from './FractureWords.tsx'
import { outlineFigure, takenWords } from './facts.ts'

type Other = ProbeOf<'sounding' | 'laboratory' | 'opening' | 'cut' | 'outline' | 'fracture-test'>

/** Readings that have no plate of their own; a fracture test stands beside its core where that is known. */
export const isOther = (probe: Probe, probes: readonly Probe[]): probe is Other =>
  probe.kind !== 'core' &&
  probe.kind !== 'drill-trace' &&
  !(probe.kind === 'fracture-test' && probes.some((other) => other.id === probe.reading.ofProbeId))

const names: Readonly<Record<Other['kind'], string>> = {
  sounding: 'Sounding with a mallet',
  laboratory: 'Laboratory result',
  opening: 'Opening',
  cut: 'Wall at a cut',
  outline: 'Outline of the stem',
  'fracture-test': 'Fracture test',
}
const order: readonly Other['kind'][] = [
  'sounding',
  'opening',
  'laboratory',
  'fracture-test',
  'cut',
  'outline',
]

/** Sounding, openings, laboratory results and measures of the stem. */
export function OtherReadings(props: { no: number; readings: readonly Other[]; wood: GreenWoodOf }) {
  const { no, readings, wood } = props
  const sorted = [...readings].sort((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind))
  return (
    <Plate no={no} title="Other readings" className="wide">
      <div className="wood-others">
        {sorted.map((probe) => (
          <section key={probe.id}>
            <h3>
              {names[probe.kind]} {probe.label}
              <span className="q wood-when">
                {probe.kind === 'sounding' || probe.kind === 'laboratory' ? '' : `${probe.heightM} m, `}
                {sayDate(probe.on)}
              </span>
            </h3>
            <One probe={probe} wood={wood} />
            <div className="s q">
              <Reasons label="How it was taken">
                {takenWords(probe).map((sentence) => (
                  <span key={sentence} className="reason">
                    {sentence}
                  </span>
                ))}
              </Reasons>
            </div>
          </section>
        ))}
      </div>
    </Plate>
  )
}

function One({ probe, wood }: { probe: Other; wood: GreenWoodOf }) {
  switch (probe.kind) {
    case 'sounding':
      return <Sounded rounds={probe.reading.rounds} />
    case 'laboratory':
      return <Laboratory probe={probe} />
    case 'opening':
      return <Opening reading={probe.reading} />
    case 'cut':
      return (
        <Facts
          rows={probe.reading.walls.map(
            (wall) => [`Wall at ${wall.bearingDeg}°`, `${wall.wallCm} cm`] as const,
          )}
        />
      )
    case 'outline':
      return <Facts rows={outlineFigure(probe)} />
    case 'fracture-test':
      return <FractureWords test={probe} wood={wood} />
  }
}

function Sounded({ rounds }: ProbeOf<'sounding'>['reading']) {
  const [box, width] = useWidth()
  return (
    <div ref={box} className="wood-drawn">
      {width > 0 ? (
        <SoundingRings
          rounds={rounds}
          widthPx={Math.min(width, 420)}
          textScale={textScaleOf(window.innerWidth)}
        />
      ) : null}
      <p className="caption">{soundingCaption({ rounds })}</p>
    </div>
  )
}

function Laboratory({ probe: { reading } }: { probe: ProbeOf<'laboratory'> }) {
  return (
    <>
      {reading.question ? <p className="s q">Asked: {reading.question}</p> : null}
      <p className="prose">{reading.result}</p>
      <p className="s q">
        {reading.laboratory}
        {reading.reportedOn ? `, ${sayDate(reading.reportedOn)}` : ''}
        {reading.manner ? `; leaves the wood ${reading.manner}` : ''}
      </p>
    </>
  )
}

const tidy = (metres: number) => Number(metres.toFixed(2))

function Opening({ reading }: { reading: ProbeOf<'opening'>['reading'] }) {
  const edges = reading.edgeWallsCm
  return (
    <Facts
      rows={[
        [
          'Edges, clockwise',
          `${Math.round(reading.fromBearingDeg)}° to ${Math.round(reading.toBearingDeg)}°`,
        ],
        ['Heights', `${tidy(reading.fromHeightM)} to ${tidy(reading.toHeightM)} m`],
        ['Depth', reading.depthCm === null ? 'not measured' : `${reading.depthCm} cm`],
        [
          'Firm wall at its edges',
          edges ? `${edges.from} and ${edges.to} cm` : 'not measured, so no figure is given',
        ],
      ]}
    />
  )
}
