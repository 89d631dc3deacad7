import type { ProbeOf } from '@underbough/model'
import type { BreakResult, GreenWoodOf } from '@underbough/wood'
import { Reasons } from '../../look/index.ts'
import { Scrolled } from '../Scrolled.tsx'
import { fractureHint, fractureOfTest } from './cores.ts'

/** How the pieces of a core broke: a hint in one sentence, the figures behind it. */
export function FractureWords({ test, wood }: { test: ProbeOf<'fracture-test'>; wood: GreenWoodOf }) {
  const outcome = fractureOfTest(test, wood)
  if (!outcome.ok)
    return (
      <p className="tree-flag s">
        Fracture test {test.label} is not worked out: {outcome.refusals[0]?.message}
      </p>
    )
  const { value } = outcome
  return (
    <div className="s tree-more">
      <b>Fracture test {test.label}.</b> {fractureHint(value)}{' '}
      <Reasons label="Each break">
        <Breaks
          breaks={value.breaks}
          angles={test.reading.breaks.map((one) => one.angleDeg)}
          label={test.label}
        />
        {value.breaks.some((one) => one.largeBend) ? (
          <span className="reason">
            {value.breaks.filter((one) => one.largeBend).length} of {value.breaks.length} bent so far before
            they broke that beam theory gives no more than an order of size.
          </span>
        ) : null}
        {value.ofAlongGrain ? <span className="reason">{value.ofAlongGrain.sentence}</span> : null}
        <span className="reason">{value.caution}</span>
      </Reasons>
    </div>
  )
}

function Breaks(props: { breaks: readonly BreakResult[]; angles: readonly number[]; label: string }) {
  return (
    <Scrolled label={`Breaks of ${props.label}`}>
      <table>
        <thead>
          <tr>
            <th className="n">At</th>
            <th className="n">Bend</th>
            <th className="n">Strength</th>
            <th className="n">Stiffness</th>
            <th>It broke</th>
          </tr>
        </thead>
        <tbody>
          {props.breaks.map((one, i) => (
            <tr key={one.atCm}>
              <td className="n">{one.atCm} cm</td>
              <td className="n">{props.angles[i]}°</td>
              <td className="n">{one.strengthMPa.toFixed(1)} MPa</td>
              <td className="n">{one.stiffnessGPa === null ? '' : `${one.stiffnessGPa.toFixed(2)} GPa`}</td>
              <td>{one.manner ?? ''}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolled>
  )
}
