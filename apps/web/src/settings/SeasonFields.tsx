import { type Refusal, type RiskWord, riskWords } from '@underbough/model'
import { type LeafPreference, leafPreferences, type PolicyDraft } from '@underbough/rating'
import { monthName, NumberField, refusalAt, Select, Tick } from '../look/index.ts'

const preferences: Record<LeafPreference, string> = {
  any: 'any time',
  'in-leaf': 'in leaf',
  'out-of-leaf': 'out of leaf',
}
const months = Array.from({ length: 12 }, (_, i) => i + 1)

/** When in the year a look is wanted, and where small, medium and large parts part. */
export function SeasonFields({
  policy,
  refusals,
  onChange,
}: {
  policy: PolicyDraft
  refusals: readonly Refusal[]
  onChange(policy: PolicyDraft): void
}) {
  const { season, partSizeFromCm: size } = policy
  const at = (path: string) => refusalAt(refusals, path)
  const setSeason = (change: Partial<typeof season>) =>
    onChange({ ...policy, season: { ...season, ...change } })
  const turn = (state: 'in-leaf' | 'out-of-leaf', month: number, on: boolean) => {
    const left = season.months[state].filter((m) => m !== month)
    setSeason({ months: { ...season.months, [state]: on ? [...left, month].sort((a, b) => a - b) : left } })
  }
  return (
    <div className="season">
      <div className="season-grid">
        <Select<LeafPreference>
          label="A look is wanted"
          value={season.prefer}
          options={leafPreferences.map((value) => ({ value, label: preferences[value] }))}
          refusal={at('season.prefer')}
          onChange={(prefer) => setSeason({ prefer })}
        />
        <NumberField
          label="Share of the interval kept when a look is moved earlier"
          unit="%"
          value={Math.round(season.keepShare * 100)}
          refusal={at('season.keepShare')}
          onChange={(share) => setSeason({ keepShare: (share ?? 0) / 100 })}
        />
        <Select<RiskWord>
          label="A tree seen and not rated is dated as"
          value={policy.unratedRisk}
          options={riskWords.map((value) => ({ value, label: value }))}
          refusal={at('unratedRisk')}
          onChange={(unratedRisk) => onChange({ ...policy, unratedRisk })}
        />
        <NumberField
          label="A part is medium from"
          unit="cm"
          value={size.medium}
          refusal={at('partSizeFromCm.medium')}
          onChange={(medium) => onChange({ ...policy, partSizeFromCm: { ...size, medium: medium ?? 0 } })}
        />
        <NumberField
          label="A part is large from"
          unit="cm"
          value={size.large}
          refusal={at('partSizeFromCm.large')}
          onChange={(large) => onChange({ ...policy, partSizeFromCm: { ...size, large: large ?? 0 } })}
        />
      </div>
      {(['in-leaf', 'out-of-leaf'] as const).map((state) => (
        <fieldset key={state} className="months">
          <legend className="field-label">
            Months {preferences[state]}, as in the north; the south is six months on
          </legend>
          {months.map((month) => (
            <Tick
              key={month}
              isSelected={season.months[state].includes(month)}
              onChange={(on) => turn(state, month, on)}
            >
              {monthName(month - 1)}
            </Tick>
          ))}
          {at(`season.months.${state}`) ? (
            <p className="field-refusal">{at(`season.months.${state}`)}</p>
          ) : null}
        </fieldset>
      ))}
    </div>
  )
}
