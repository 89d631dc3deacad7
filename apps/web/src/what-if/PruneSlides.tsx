import type { Size } from './reckon.ts'
import { Slide } from './Slide.tsx'

const ways = { n: 'North', e: 'East', s: 'South', w: 'West' } as const
const LEAST_HEIGHT_M = 2

/** Height, crown base and the four crown radii: pruning takes away, so each runs from what stands towards less crown. */
export function PruneSlides({
  stands,
  assumed,
  size,
  onChange,
}: {
  stands: Size
  assumed: readonly string[]
  size: Size
  onChange(size: Size): void
}) {
  const radii = size.crownRadiiM
  return (
    <fieldset className="slides">
      <legend className="out-of-sight">What pruning would leave</legend>
      <Slide
        label="Height"
        unit="m"
        value={size.heightM}
        least={Math.min(LEAST_HEIGHT_M, stands.heightM)}
        most={stands.heightM}
        step={0.1}
        onChange={(heightM) =>
          onChange({
            ...size,
            heightM,
            crownBaseHeightM: Math.min(size.crownBaseHeightM, Math.max(0, heightM)),
          })
        }
      />
      <Slide
        label="Crown base"
        unit="m"
        value={size.crownBaseHeightM}
        least={Math.min(stands.crownBaseHeightM, size.heightM)}
        most={size.heightM}
        step={0.1}
        onChange={(crownBaseHeightM) => onChange({ ...size, crownBaseHeightM })}
      />
      <p className="slides-word">Crown radius</p>
      {(['n', 'e', 's', 'w'] as const).map((way) => (
        <Slide
          key={way}
          label={ways[way]}
          unit="m"
          value={radii[way]}
          least={0}
          most={stands.crownRadiiM[way]}
          step={0.1}
          onChange={(metres) => onChange({ ...size, crownRadiiM: { ...radii, [way]: metres } })}
        />
      ))}
      {assumed.length > 0 ? (
        <p className="s q slides-word">Not measured, so assumed: {assumed.join(', ')}.</p>
      ) : null}
    </fieldset>
  )
}
