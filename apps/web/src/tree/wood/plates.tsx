import type { Probe, ProbeOf } from '@underbough/model'
import { type SectionAt, sectionsOf } from '@underbough/wood'
import { type ReactNode, useMemo } from 'react'
import type { TreeWhole } from '../../api/index.ts'
import { CorePlate } from './CorePlate.tsx'
import { toMiddleCm } from './facts.ts'
import { isOther, OtherReadings } from './OtherReadings.tsx'
import { RulesPlate } from './RulesPlate.tsx'
import { rulesAt } from './rules.ts'
import { SectionPlate } from './SectionPlate.tsx'
import { StrengthPlate } from './StrengthPlate.tsx'
import { type KnownWood, woodOfTree } from './species.ts'
import { TracePlate } from './TracePlate.tsx'
import { WeightPlate } from './WeightPlate.tsx'
import { WindPlate } from './WindPlate.tsx'
import './wood.css'

/** A plate that is told its number once it is known which plates the page has. */
export type NumberedPlate = (no: number) => ReactNode

/** What readings say of a tree, worked out on this device. */
export interface WoodOfTree {
  probes: readonly Probe[]
  sections: readonly SectionAt[]
  known: KnownWood
}

export function useWood({ tree }: TreeWhole, probes: readonly Probe[]): WoodOfTree {
  return useMemo(
    () => ({ probes, sections: sectionsOf(probes, tree), known: woodOfTree(tree) }),
    [probes, tree],
  )
}

const isTrace = (probe: Probe): probe is ProbeOf<'drill-trace'> => probe.kind === 'drill-trace'
const isCore = (probe: Probe): probe is ProbeOf<'core'> => probe.kind === 'core'
const byPlace = (a: Probe, b: Probe) =>
  a.heightM - b.heightM || a.label.localeCompare(b.label, 'en', { numeric: true })

/** Sections with their strength, then each drilling and core, then the rest. Empty for a tree nobody read. */
export function readingPlates(whole: TreeWhole, { probes, sections, known }: WoodOfTree): NumberedPlate[] {
  const { tree, photos } = whole
  const single = [...probes.filter(isTrace).sort(byPlace), ...probes.filter(isCore).sort(byPlace)]
  const others = probes.filter((probe) => isOther(probe, probes))
  return [
    ...sections.flatMap((at): NumberedPlate[] => {
      const section = at.outcome.ok ? at.outcome.value : null
      return [
        (no) => <SectionPlate key={`s${at.heightM}`} no={no} at={at} />,
        ...(section?.share
          ? [(no: number) => <StrengthPlate key={`b${at.heightM}`} no={no} at={at} section={section} />]
          : []),
      ]
    }),
    ...single.map((probe, i): NumberedPlate => {
      const radiusCm = toMiddleCm(probe, sections, tree)
      // An odd one out takes the whole row.
      const className = single.length % 2 === 1 && i === single.length - 1 ? 'wide' : ''
      return (no) =>
        isTrace(probe) ? (
          <TracePlate key={probe.id} no={no} probe={probe} radiusCm={radiusCm} className={className} />
        ) : (
          <CorePlate
            key={probe.id}
            no={no}
            core={probe}
            probes={probes}
            photos={photos}
            radiusCm={radiusCm}
            wood={known.wood}
            className={className}
          />
        )
    }),
    ...(others.length > 0
      ? [(no: number) => <OtherReadings key="others" no={no} readings={others} wood={known.wood} />]
      : []),
  ]
}

/** What is worked out from the readings and the record, for reading at a table. */
export function benchPlates({ tree }: TreeWhole, { sections, known }: WoodOfTree): NumberedPlate[] {
  const { group } = known.match
  const conifer = group === null ? null : group === 'softwood'
  const drawn = sections.flatMap((at) => (at.outcome.ok ? [{ at, section: at.outcome.value }] : []))
  return [
    ...drawn
      .filter(({ section }) => rulesAt(section, conifer))
      .map(
        ({ at, section }): NumberedPlate =>
          (no) => <RulesPlate key={`r${at.heightM}`} no={no} at={at} section={section} conifer={conifer} />,
      ),
    ...drawn
      .filter(({ section }) => section.share)
      .map(
        ({ at, section }): NumberedPlate =>
          (no) => <WindPlate key={`w${at.heightM}`} no={no} tree={tree} section={section} known={known} />,
      ),
    (no) => <WeightPlate key="weight" no={no} species={tree.species} known={known} />,
  ]
}
