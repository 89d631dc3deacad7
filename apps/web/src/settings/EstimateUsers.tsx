import type { Refusal } from '@underbough/model'
import { lineVerdictWords, publishedLines, type Vulnerability } from '@underbough/rating'
import { useZones } from '../api/index.ts'
import { Button, count, Field, NumberField, Plate, refusalAt, Select } from '../look/index.ts'
import { onPhone, useWidth } from '../tree/useWidth.ts'
import { decadesOver, EstimateAxis, EstimateBar } from './EstimateBar.tsx'
import type { NamedUser, NamedUserInput } from './estimateHooks.ts'
import { sayChance, saySpan } from './estimateWords.ts'

/** A user while it is entered: what is still missing is null. */
export interface UserDraft extends Omit<NamedUserInput, 'zoneId' | 'hoursPerYear'> {
  zoneId: string | null
  hoursPerYear: number | null
}

/** Who is at a place more than others, and how likely a person within an outline is killed: what one person's figure needs. */
export function EstimateUsersPlate({
  users,
  vulnerability,
  refusals,
  onUsers,
  onVulnerability,
}: {
  users: readonly UserDraft[]
  vulnerability: Vulnerability
  refusals: readonly Refusal[]
  onUsers(users: UserDraft[]): void
  onVulnerability(vulnerability: Vulnerability): void
}) {
  const zones = useZones()
  const options = (zones.data ?? []).map(({ id, name }) => ({ value: id, label: name }))
  const put = (i: number, part: Partial<UserDraft>) =>
    onUsers(users.map((user, at) => (at === i ? { ...user, ...part } : user)))
  const at = (path: string) => refusalAt(refusals, path)
  return (
    <Plate title="One person’s part">
      <p className="prose q">
        Published levels are for one person, not for anybody who happens by. Only figures of the people named
        here stand beside them. Name a role or a use, no person.
      </p>
      <div className="estimate-grid">
        <NumberField
          label="Somebody within the outline is killed, from"
          unit="%"
          value={Number((vulnerability.from * 100).toPrecision(4))}
          hint="The organisation’s own figure; none was found published."
          refusal={at('decided.vulnerability.from')}
          onChange={(percent) => onVulnerability({ ...vulnerability, from: (percent ?? 0) / 100 })}
        />
        <NumberField
          label="To"
          unit="%"
          value={Number((vulnerability.to * 100).toPrecision(4))}
          refusal={at('decided.vulnerability.to')}
          onChange={(percent) => onVulnerability({ ...vulnerability, to: (percent ?? 0) / 100 })}
        />
      </div>
      {users.map((user, i) => (
        <fieldset key={i} className="estimate-user" aria-label={user.who || `Person ${i + 1}`}>
          <Field
            label="Who"
            value={user.who}
            hint="Keeper of the stall"
            refusal={at(`decided.users.${i}.who`)}
            onChange={(who) => put(i, { who })}
          />
          <Select
            label="Where"
            value={user.zoneId}
            options={options}
            refusal={at(`decided.users.${i}.zoneId`)}
            onChange={(zoneId) => put(i, { zoneId })}
          />
          <NumberField
            label="There"
            unit="hours a year"
            value={user.hoursPerYear}
            refusal={at(`decided.users.${i}.hoursPerYear`)}
            onChange={(hoursPerYear) => put(i, { hoursPerYear })}
          />
          <Button
            kind="quiet"
            aria-label={`Take ${user.who || 'this person'} out`}
            onPress={() => onUsers(users.filter((_, of) => of !== i))}
          >
            Take out
          </Button>
        </fieldset>
      ))}
      {users.length < 20 ? (
        <Button
          kind="quiet"
          onPress={() => onUsers([...users, { who: '', zoneId: null, hoursPerYear: null }])}
        >
          {users.length > 0 ? 'Name another' : 'Name somebody'}
        </Button>
      ) : null}
    </Plate>
  )
}

const { upper, lower, source } = publishedLines

/** Each named person's yearly range beside the two published lines. */
export function ExposedPlate({ users }: { users: readonly NamedUser[] }) {
  const [box, width] = useWidth()
  const axis = decadesOver([
    upper.perYear,
    lower.perYear,
    ...users.flatMap(({ perYear }) => [perYear.least, perYear.most]),
  ])
  const lines = [
    { at: lower.perYear, words: 'dashed: 1 in 1,000,000' },
    { at: upper.perYear, words: '1 in 10,000' },
  ]
  const bar = Math.min(width, onPhone() ? 330 : 520)
  return (
    <Plate
      title="The most exposed people"
      aside="chance of being killed there, a year"
      caption={`Dashed: ${upper.words} and ${lower.words} (${source}). What to do about a range follows from law, duty and judgement, not from these lines alone.`}
    >
      <div ref={box} className="estimate-exposed">
        {bar > 0 && users.length > 0 ? (
          <EstimateAxis axis={axis} lines={lines} widthPx={bar} say={sayChance} />
        ) : null}
        {users.length === 0 ? <p className="q">Nobody is named, or nobody uses the places named.</p> : null}
        {bar > 0
          ? users.map((user) => (
              <div key={`${user.who} ${user.zoneId}`}>
                <p>
                  <b>{user.who}</b>, {user.zoneName}, {count(user.hoursPerYear, 'hour')} a year under{' '}
                  {count(user.trees, 'tree')}
                </p>
                <EstimateBar
                  range={user.perYear}
                  axis={axis}
                  lines={lines}
                  widthPx={bar}
                  says={saySpan(user.perYear, sayChance)}
                />
                <p className="s">
                  {saySpan(user.perYear, sayChance)} a year. <b>{lineVerdictWords[user.verdict]}</b>
                </p>
              </div>
            ))
          : null}
      </div>
    </Plate>
  )
}
