import { sayPeople } from '../look/index.ts'
import type { Figures, Size, Spread } from './reckon.ts'

/** Falls out of a hundred: `under 1`, `57`. */
export const outOf100 = (share: number) =>
  share > 0 && share < 0.005
    ? 'under 1'
    : share < 1 && share > 0.995
      ? 'over 99'
      : String(Math.round(share * 100))

/** `0.3 to 1.5`; one figure where both ends read alike. */
export function saySpread({ least, most }: Spread, say: (n: number) => string): string {
  const [low, high] = [say(least), say(most)]
  return low === high ? low : `${low.replace('under 0.01', '0').replace('under 1', '0')} to ${high}`
}

/** What a change would do to the people under a fall, in one plain sentence. */
export function sayChange(before: Figures, after: Figures): string {
  const [was, would] = [before.people.mean, after.people.mean]
  if (was === 0 && would === 0)
    return 'Nobody would be within its outline before or after, as far as the zones on record say.'
  if (would === 0) return `Of ${sayPeople(was)} people within its outline on average, none would be left.`
  const touch =
    outOf100(before.pTouch.mean) === outOf100(after.pTouch.mean)
      ? `it would still touch a target zone in ${outOf100(after.pTouch.mean)} of 100 falls`
      : `it would touch a target zone in ${outOf100(after.pTouch.mean)} of 100 falls instead of ${outOf100(before.pTouch.mean)}`
  if (sayPeople(was) === sayPeople(would))
    return `It would change little: ${sayPeople(would)} people within its outline on average as before; ${touch}.`
  return would < was
    ? `Of ${sayPeople(was)} people within its outline on average, ${sayPeople(would)} would be left; ${touch}.`
    : `It would put more people under a fall: ${sayPeople(would)} on average instead of ${sayPeople(was)}; ${touch}.`
}

const m = (metres: number) => String(Number(metres.toFixed(1)))
/** What pruning changes: `height 22 to 18 m; crown radius east 6 to 4 m`. */
export function saySize(was: Size, would: Size): string {
  const parts: string[] = []
  const say = (name: string, a: number, b: number) => {
    if (m(a) !== m(b)) parts.push(`${name} ${m(a)} to ${m(b)} m`)
  }
  say('height', was.heightM, would.heightM)
  say('crown base', was.crownBaseHeightM, would.crownBaseHeightM)
  const names = { n: 'north', e: 'east', s: 'south', w: 'west' } as const
  for (const way of ['n', 'e', 's', 'w'] as const)
    say(`crown radius ${names[way]}`, was.crownRadiiM[way], would.crownRadiiM[way])
  return parts.join('; ')
}

/** What would remain, for a work: `Given that it falls: 0.8 people within its outline (0.3 to 1.5), before 2.1; …`. */
export const sayRemaining = (before: Figures, after: Figures, method: string, noun = 'its outline'): string =>
  `Given that it falls: ${sayPeople(after.people.mean)} people within ${noun} (${saySpread(after.people, sayPeople)}), before ${sayPeople(before.people.mean)}; somebody there in ${outOf100(after.pAny.mean)} of 100 falls, before ${outOf100(before.pAny.mean)} (${method}).`
