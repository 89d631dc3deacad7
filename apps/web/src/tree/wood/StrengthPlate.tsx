import { StrengthRose, sectionFormal } from '@underbough/pictures'
import type { Section, SectionAt } from '@underbough/wood'
import { Plate, Reasons } from '../../look/index.ts'
import { textScaleOf } from '../useWidth.ts'
import { greyWords, roseWords } from './facts.ts'
import { SectionReasons } from './SectionReasons.tsx'
import { WoodTable } from './WoodTable.tsx'

const percent = (share: number) => `${Math.round(share * 100)} %`

/** What is left of this cross-section's bending strength, by the way it is bent, with the three figures or the two that may be said. */
export function StrengthPlate({ no, at, section }: { no: number; at: SectionAt; section: Section }) {
  if (!section.share) return null
  const grey = greyWords(section)
  return (
    <Plate
      no={no}
      title={section.rose ? 'Bending strength, by bearing' : 'Bending strength, a range only'}
      className="wood-strength"
    >
      {section.rose ? (
        <>
          <StrengthRose section={section} widthPx={270} textScale={textScaleOf(window.innerWidth)} />
          <p className="caption">{roseWords(section)}</p>
        </>
      ) : null}
      <Figures share={section.share} grey={grey !== null} />
      <div className="s q tree-more">
        {sectionFormal(section)} {grey}{' '}
        <span className="wood-open">
          <SectionReasons at={at} section={section} />
          <Reasons label="Each reading">
            <WoodTable readings={section.readings} label={`Readings at ${at.heightM} m`} />
          </Reasons>
        </span>
      </div>
    </Plate>
  )
}

function Figures({ share, grey }: { share: NonNullable<Section['share']>; grey: boolean }) {
  const figure = grey ? 'n q' : 'n b'
  return (
    <table className="wood-figures">
      <thead>
        <tr>
          <th>On the weakest bearing</th>
          <th className="n">
            5 %, cautious
            <br />
            broken line
          </th>
          {share.p50 === null ? null : (
            <th className="n">
              50 %
              <br />
              firm line
            </th>
          )}
          <th className="n">95 %</th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <td>Share of sound</td>
          <td className={figure}>{percent(share.p05)}</td>
          {share.p50 === null ? null : <td className={figure}>{percent(share.p50)}</td>}
          <td className={figure}>{percent(share.p95)}</td>
        </tr>
      </tbody>
    </table>
  )
}
