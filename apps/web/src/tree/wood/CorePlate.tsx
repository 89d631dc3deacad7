import type { Photo, Probe, ProbeOf } from '@underbough/model'
import { CoreStrip, coreCaption } from '@underbough/pictures'
import type { Age, GreenWoodOf } from '@underbough/wood'
import { Facts, Plate, Reasons, sayDate, sayTime } from '../../look/index.ts'
import { textScaleOf, useWidth } from '../useWidth.ts'
import { ageOfCore, growthWords, reachOfCore, reachWords, testsOf } from './cores.ts'
import { FractureWords } from './FractureWords.tsx'
import { entryWords, photoOf, takenWords } from './facts.ts'

interface CoreProps {
  no: number
  core: ProbeOf<'core'>
  probes: readonly Probe[]
  photos: readonly Photo[]
  /** From the outside of the bark to the middle as the borer went; null while nobody measured it. */
  radiusCm: number | null
  wood: GreenWoodOf
  className?: string
}

const mannerNames = { flexes: 'bends and springs back', snaps: 'snaps short', crumbles: 'crumbles' } as const

/** A core beside its photo, from the bark inwards, with what was read off it. */
export function CorePlate({ no, core, probes, photos, radiusCm, wood, className }: CoreProps) {
  const [box, width] = useWidth()
  const photo = photoOf(core.id, photos)
  const tests = testsOf(core, probes)
  const { reading } = core
  const age = ageOfCore(core)
  const growth = growthWords(core)
  const facts = { core: reading, radiusCm }
  const rows: (readonly [string, string])[] = [
    ['Reach', reachWords(core, radiusCm)],
    ...(reading.manner ? [['Between the fingers', mannerNames[reading.manner]] as const] : []),
    ...(reading.smell ? [['Smell', reading.smell] as const] : []),
    ...(reading.ringsCounted === null ? [] : [['Rings counted', String(reading.ringsCounted)] as const]),
    ...(age?.ok ? [['Age', age.value.sentence.replace(/\.$/, '')] as const] : []),
    ...(growth ? [['Growth', growth] as const] : []),
  ]
  return (
    <Plate
      no={no}
      title={`Core ${core.label}, ${entryWords(core)}`}
      aside={sayDate(core.on)}
      className={className}
    >
      <div ref={box} className="wood-drawn">
        {width > 0 ? (
          <CoreStrip
            {...facts}
            breaks={tests.flatMap((test) => test.reading.breaks)}
            photo={
              photo && {
                href: `/api/photos/${photo.id}`,
                says: photo.takenAt
                  ? `photo of the core, ${sayDate(photo.takenAt.slice(0, 10))}, ${sayTime(photo.takenAt)}`
                  : 'photo of the core',
              }
            }
            widthPx={width}
            textScale={textScaleOf(window.innerWidth)}
          />
        ) : null}
      </div>
      <p className="caption">{coreCaption(facts)}</p>
      <div className="wood-facts">
        <Facts rows={rows} />
      </div>
      {age?.ok === false ? <p className="tree-flag s">No age: {age.refusals[0]?.message}</p> : null}
      {tests.map((test) => (
        <FractureWords key={test.id} test={test} wood={wood} />
      ))}
      <div className="s q tree-more wood-open">
        {age?.ok ? <AgeParts age={age.value} /> : null}
        <Taken core={core} radiusCm={radiusCm} photo={photo} />
      </div>
    </Plate>
  )
}

function AgeParts({ age }: { age: Age }) {
  return (
    <Reasons label="What the age is made of">
      {age.parts.map((part) => (
        <span key={part.what} className="reason">
          {part.what}:{' '}
          {part.most === null
            ? `${part.least} or more`
            : part.least === part.most
              ? part.least
              : `${part.least} to ${part.most}`}{' '}
          ({part.mark}; {part.how}
          {part.source ? `; ${part.source}` : ''}).
        </span>
      ))}
      <span className="reason">{age.caution}</span>
    </Reasons>
  )
}

function Taken({ core, radiusCm, photo }: Pick<CoreProps, 'core' | 'radiusCm'> & { photo: Photo | null }) {
  const reach = reachOfCore(core, radiusCm)
  return (
    <Reasons label="How it was taken">
      {takenWords(core).map((sentence) => (
        <span key={sentence} className="reason">
          {sentence}
        </span>
      ))}
      {reach?.ok ? (
        <span className="reason">
          {Math.round(reach.value.sampledShare * 100)} % of the wood from bark to middle was read.{' '}
          {reach.value.longestBorer.sentence} ({reach.value.longestBorer.source}).
        </span>
      ) : null}
      {photo ? (
        <a className="reason" href={`/api/photos/${photo.id}`} target="_blank" rel="noreferrer">
          The photo at full size
        </a>
      ) : null}
    </Reasons>
  )
}
