import { Field, Notice, NumberField, refusalAt, Tick } from '../look/index.ts'
import { WordRow } from '../visit/pieces.tsx'
import { BearingField, BearingPicker } from './BearingField.tsx'
import type { PartProps } from './part.ts'
import { enters, wounds } from './words.ts'

export const woundCaution =
  'A core or a drill wounds the tree. Make the fewest holes that answer the question, disinfect the tool, and write why.'

/** Stands over every form that wounds; before a further hole it asks what the hole is for. */
export function WoundCaution({ holes }: { holes: number }) {
  return (
    <Notice tone="mind">
      {woundCaution}
      {holes > 0 ? (
        <b className="wound-more">
          This visit has made {holes === 1 ? 'one hole' : `${holes} holes`} at this height already. Does
          another reading change what you will do?
        </b>
      ) : null}
    </Notice>
  )
}

/** Where it was taken. */
export function WherePart({ handle }: PartProps) {
  const { values, change, refusals } = handle
  const at = (path: string) => refusalAt(refusals, path)
  const { kind } = values
  return (
    <fieldset className="reading-part">
      <legend>Where</legend>
      <div className="two">
        <Field
          label="Short name"
          value={values.label}
          onChange={(label) => change({ label })}
          refusal={at('label')}
        />
        {kind === 'sounding' ? null : (
          <NumberField
            label={kind === 'opening' ? 'Measured at height' : 'Height'}
            unit="m"
            value={values.heightM}
            onChange={(heightM) => change({ heightM })}
            refusal={at('heightM')}
            isRequired
          />
        )}
      </div>
      {enters(kind) ? (
        <BearingPicker
          label="Goes in at"
          hint="side of the stem, from north"
          value={values.entryBearingDeg}
          onChange={(entryBearingDeg) => change({ entryBearingDeg })}
          refusal={at('entryBearingDeg')}
        />
      ) : null}
      {wounds(kind) ? (
        <>
          <Tick isSelected={values.offCentre} onChange={(offCentre) => change({ offCentre })}>
            Aimed off centre
          </Tick>
          <div className="two">
            {values.offCentre ? (
              <BearingField
                label="Points to"
                value={values.directionDeg}
                onChange={(directionDeg) => change({ directionDeg })}
                refusal={at('directionDeg')}
              />
            ) : null}
            <NumberField
              label="Tilted down"
              unit="degrees"
              value={values.tiltDeg}
              onChange={(tiltDeg) => change({ tiltDeg })}
              refusal={at('tiltDeg')}
              hint="empty: level"
            />
          </div>
        </>
      ) : null}
    </fieldset>
  )
}

/** With what, by whom, and why. */
export function HowPart({ handle }: PartProps) {
  const { values, change, refusals } = handle
  const at = (path: string) => refusalAt(refusals, path)
  const { kind } = values
  return (
    <fieldset className="reading-part">
      <legend>{wounds(kind) ? 'With what, by whom and why' : 'By whom and with what'}</legend>
      {wounds(kind) ? (
        <Field
          label="Why the tree was wounded"
          multiline
          value={values.reason}
          onChange={(reason) => change({ reason })}
          refusal={at('reason')}
          isRequired
        />
      ) : null}
      {kind === 'laboratory' ? null : (
        <Field
          label="Instrument"
          value={values.instrument}
          onChange={(instrument) => change({ instrument })}
          refusal={at('instrument')}
          hint="with its serial number where it has one"
        />
      )}
      {enters(kind) ? (
        <Field
          label="Its condition"
          value={values.instrumentCondition}
          onChange={(instrumentCondition) => change({ instrumentCondition })}
          refusal={at('instrumentCondition')}
          hint="sharp or worn, last calibrated"
        />
      ) : null}
      {wounds(kind) ? (
        <WordRow
          label="Disinfected before"
          words={['yes', 'no', 'not-said'] as const}
          value={values.disinfected}
          onChange={(disinfected) => change({ disinfected })}
          say={(word) => ({ yes: 'Yes', no: 'No', 'not-said': 'Not known' })[word]}
        />
      ) : null}
      <Field
        label="Taken by"
        value={values.operator}
        onChange={(operator) => change({ operator })}
        refusal={at('operator')}
      />
      <Field
        label="Note"
        multiline
        value={values.note}
        onChange={(note) => change({ note })}
        refusal={at('note')}
      />
    </fieldset>
  )
}
