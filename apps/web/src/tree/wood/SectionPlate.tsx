import { StemSection, sectionCaption, sectionFormal, WoodKey } from '@underbough/pictures'
import type { Section, SectionAt } from '@underbough/wood'
import { Notice, Plate } from '../../look/index.ts'
import { sayMetres } from '../facts.ts'
import { onPhone, textScaleOf, useWidth } from '../useWidth.ts'
import { fillsOf, leftWords, sectionAside } from './facts.ts'
import { SectionReasons } from './SectionReasons.tsx'
import { WoodTable } from './WoodTable.tsx'

/** Beyond this the drawing grows no clearer, px. */
const WIDEST_PX = 430

/** The stem cut across in thought, at one height: what is firm, what is gone, and what nobody read. */
export function SectionPlate({ no, at }: { no: number; at: SectionAt }) {
  const { outcome } = at
  const title = `Section at ${sayMetres(at.heightM)}`
  const aside = onPhone() ? undefined : sectionAside(at)
  if (!outcome.ok)
    return (
      <Plate no={no} title={title} aside={aside} className="wide">
        <Notice tone="mind" title="No section can be drawn from these readings.">
          <ul>
            {outcome.refusals.map((one) => (
              <li key={`${one.code} ${one.path}`}>{one.message}</li>
            ))}
          </ul>
        </Notice>
        <p className="s q tree-more">The readings stay as they were entered. {leftWords(at.left)}</p>
      </Plate>
    )
  const section = outcome.value
  const alone = section.says === 'walls'
  return (
    <Plate no={no} title={title} aside={aside} className={alone ? 'wide wood-alone' : ''}>
      {onPhone() ? <p className="q">{sectionAside(at)}</p> : null}
      <Drawn section={section} />
      <div>
        <p className="caption">{sectionCaption(section)}</p>
        <WoodKey only={fillsOf(section)} />
        <Left at={at} />
        {alone ? <Walls at={at} section={section} /> : null}
      </div>
    </Plate>
  )
}

function Drawn({ section }: { section: Section }) {
  const [box, width] = useWidth()
  return (
    <div ref={box} className="wood-drawn">
      {width > 0 ? (
        <StemSection
          section={section}
          widthPx={Math.min(width, WIDEST_PX)}
          textScale={textScaleOf(window.innerWidth)}
        />
      ) : null}
    </div>
  )
}

/** Readings that are at hand and not counted: they ask for somebody to look. */
function Left({ at }: { at: SectionAt }) {
  const words = leftWords(at.left)
  return words ? <p className="tree-flag s">{words}</p> : null
}

function Walls({ at, section }: { at: SectionAt; section: Section }) {
  return (
    <>
      <p className="prose wood-says">
        <b>
          {section.readings.length > 0
            ? 'Not enough readings for a figure of this section.'
            : 'No reading here that can be counted.'}
        </b>{' '}
        {section.readings.length > 0 ? 'Each says this much by itself:' : null}
      </p>
      {section.readings.length > 0 ? (
        <WoodTable readings={section.readings} label={`Readings at ${at.heightM} m`} />
      ) : null}
      <div className="s q tree-more">
        {sectionFormal(section)} <SectionReasons at={at} section={section} />
      </div>
    </>
  )
}
