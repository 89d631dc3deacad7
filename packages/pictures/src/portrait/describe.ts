import { bearing, compassWord, counted, figure, listed, metres, sentenceCase } from '../draw/say.ts'
import { drawnOf } from './dimensions.ts'
import type { PortraitFinding, PortraitTarget, PortraitTree } from './types.ts'

export interface PortraitFacts {
  tree: PortraitTree
  findings?: readonly PortraitFinding[]
  target?: PortraitTarget | null
  /** How far the tree reaches if it falls whole, metres. */
  reachM?: number | null
}

const nameOf = (tree: PortraitTree) => tree.commonName ?? tree.species
const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1)

function body(tree: PortraitTree): string {
  const drawn = drawnOf(tree)
  const about = (what: 'height' | 'stem') => (drawn.assumed.includes(what) ? 'about ' : '')
  if (tree.status === 'gone') return `${nameOf(tree)}, gone; drawn where it stood`
  if (tree.status === 'stump')
    return `${nameOf(tree)}, a stump ${about('height')}${metres(drawn.heightM)} high`
  const what =
    tree.status === 'pole' ? ', kept as a pole,' : tree.group ? `, group of ${tree.group.count},` : ','
  return `${nameOf(tree)}${what} ${about('height')}${metres(drawn.heightM)} high`
}

/** The portrait in words: every figure that is drawn, and what was assumed for it. */
export function describePortrait({ tree, findings = [], target, reachM }: PortraitFacts): string {
  const drawn = drawnOf(tree)
  const parts = [`${body(tree)}, to scale, seen from the south`]
  if (tree.status === 'standing')
    parts.push(
      `crown from ${metres(drawn.crownBaseM)} up, ${metres(drawn.westM)} to the west and ${metres(drawn.eastM)} to the east`,
    )
  if (tree.stems.length > 0)
    parts.push(
      `${tree.stems.length > 1 ? `${tree.stems.length} stems` : 'stem'} ${listed(tree.stems.map((s) => `${figure(s.diameterCm)} cm`))} thick`,
    )
  if (tree.lean && tree.lean.angleDeg > 0) parts.push(leanSays(tree.lean))
  if (drawn.assumed.length > 0) parts.push(`not measured, so assumed: ${listed(drawn.assumed)}`)
  if (findings.length > 0)
    parts.push(`${counted(findings.length, 'finding')}: ${findings.map(findingSays).join('; ')}`)
  if (target) parts.push(`nearest target: ${targetSays(target)}`)
  if (reachM) parts.push(`it reaches ${metres(reachM)} if it falls`)
  return `${parts.join('. ').replace(/\. ([a-z])/g, (_, letter: string) => `. ${letter.toUpperCase()}`)}.`
}

export const leanSays = (lean: { angleDeg: number; bearingDeg: number }): string =>
  `leans ${figure(lean.angleDeg)}° to ${bearing(lean.bearingDeg)}`

function findingSays({ number, name, heightM, bearingDeg }: PortraitFinding): string {
  const where = [heightM === null ? 'height not noted' : `${metres(heightM)} up`]
  if (bearingDeg !== null) where.push(`facing ${bearing(bearingDeg)}`)
  return `${number} ${lowerFirst(name)}, ${where.join(', ')}`
}

const targetSays = (target: PortraitTarget): string =>
  target.distanceM < 0.05
    ? `${target.name}, under the tree`
    : `${target.name}, ${metres(target.distanceM)} to the ${compassWord(target.bearingDeg)}`

/** One plain sentence for under the portrait. */
export function portraitCaption({ tree, target, reachM }: PortraitFacts): string {
  const start = sentenceCase(body(tree))
  if (tree.status === 'gone') return `${start}.`
  if (!target) return `${start}.`
  const there =
    target.distanceM < 0.05
      ? `${target.name} lies under it`
      : `${target.name} is ${metres(target.distanceM)} away`
  if (!reachM) return `${start}; ${there}.`
  return `${start}; ${there}, ${target.distanceM <= reachM ? 'within' : 'beyond'} its reach of ${metres(reachM)}.`
}
