import { type FindingInput, treeLimits } from '@underbough/model'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Button, Field, NumberField, refusalAt } from '../look/index.ts'
import { movePhotos } from '../photos/index.ts'
import { changeFinding, foundOf, removeFinding } from './draft.ts'
import { kindOf, placeOf } from './kinds.ts'
import { PlacePicker } from './PlacePicker.tsx'
import type { VisitHandle } from './useVisit.ts'
import { FindingPhotos } from './VisitPhotos.tsx'

/** `2.1 m up, facing 111°`. */
export const sayPlace = (finding: Pick<FindingInput, 'heightM' | 'bearingDeg'>): string =>
  [
    finding.heightM === null ? null : `${finding.heightM} m up`,
    finding.bearingDeg === null ? null : `facing ${Math.round(finding.bearingDeg)}°`,
  ]
    .filter(Boolean)
    .join(', ') || 'not placed yet'

/** One finding: where it is, how large, a note, its photos. */
export function FindingPart(props: {
  finding: FindingInput
  visit: VisitHandle
  isOpen: boolean
  onOpen(): void
}) {
  const { finding, visit, isOpen, onOpen } = props
  const { tree } = visit.kept.ground.whole
  const place = placeOf(finding.step)
  const set = (part: Partial<FindingInput>) => visit.change((d) => changeFinding(d, finding.id, part))
  const index = foundOf(visit.draft).indexOf(finding)
  const at = (field: string) => refusalAt(visit.refusals, `visit.findings.${index}.${field}`)
  const takeBack = () => {
    visit.change((d) => removeFinding(d, finding.id))
    // Its photos are of this tree all the same: they go on as the visit's.
    void movePhotos(finding.id, { ownerKind: 'visit', ownerId: visit.draft.id }).catch(() => {})
  }
  const heightRefusal =
    finding.heightM !== null && finding.heightM > (tree.heightM ?? treeLimits.heightM)
      ? `${finding.heightM} m is above the top of this tree.`
      : at('heightM')
  return (
    <section className="finding" aria-label={finding.kind}>
      <h2>
        <AriaButton className="finding-head" aria-expanded={isOpen} onPress={onOpen}>
          <b>{finding.kind}</b>
          <span className="sp">{sayPlace(finding)}</span>
        </AriaButton>
      </h2>
      {isOpen ? (
        <>
          <PlacePicker
            place={place}
            tree={tree}
            heightM={finding.heightM}
            bearingDeg={finding.bearingDeg}
            others={foundOf(visit.draft).flatMap((one, i) =>
              one.id === finding.id
                ? []
                : [{ number: i + 1, name: one.kind, heightM: one.heightM, bearingDeg: one.bearingDeg }],
            )}
            onHeight={(heightM) => set({ heightM })}
            onBearing={(bearingDeg) => set({ bearingDeg })}
          />
          <div className="two">
            {place === 'around' ? null : (
              <NumberField
                label="Height"
                unit="m"
                value={finding.heightM}
                onChange={(heightM) => set({ heightM })}
                refusal={heightRefusal}
              />
            )}
            <NumberField
              label={place === 'around' ? 'Lies to' : 'Facing'}
              unit="degrees"
              value={finding.bearingDeg}
              onChange={(deg) => set({ bearingDeg: deg === null ? null : ((deg % 360) + 360) % 360 })}
              refusal={at('bearingDeg')}
            />
          </div>
          <Field
            label="How large"
            value={finding.extent}
            onChange={(extent) => set({ extent })}
            hint={kindOf(finding)?.extent ?? 'with its unit: 46 × 21 cm'}
            refusal={at('extent')}
          />
          <Field
            label="Note"
            multiline
            value={finding.note}
            onChange={(note) => set({ note })}
            refusal={at('note')}
          />
          <FindingPhotos visit={visit} finding={finding} />
          <Button kind="quiet" onPress={() => takeBack()}>
            Take this finding back
          </Button>
        </>
      ) : null}
    </section>
  )
}
