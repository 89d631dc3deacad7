import type { Refusal, TreeMapping } from '@underbough/model'
import { say } from './codes.ts'
import type { Crs } from './crs.ts'
import { type AxisOrder, type PlaceColumns, placed, type RawPair } from './positions.ts'
import type { RowVerdict } from './row-verdict.ts'
import { type RowView, readTree, shortTag, sourceKeyOf, tagOf } from './tree-row.ts'

/** Reads rows one after another and remembers identifiers and tags. */
export class RowReader {
  private readonly lineOfKey = new Map<string, number>()
  private readonly tags = new Set<string>()
  private readonly path: string
  private readonly hasKey: boolean

  constructor(
    private readonly mapping: TreeMapping,
    private readonly crs: Crs,
    private readonly axes: AxisOrder,
    private readonly axisNote: Refusal | null,
    place: PlaceColumns,
  ) {
    this.path = place.geometry ?? place.x!
    const fields = Object.values(mapping.columns)
    this.hasKey = fields.includes('sourceKey') || fields.includes('sourceKeyPart')
  }

  read(
    line: number,
    row: RowView,
    raw: RowVerdict['raw'],
    pair: RawPair | Refusal,
    before: Refusal[],
  ): RowVerdict {
    const sourceKey = sourceKeyOf(row)
    const position = Array.isArray(pair) ? placed(pair, this.axes, this.crs, this.path) : pair
    const reasons = [...(Array.isArray(position) ? [] : [position]), ...this.keyReasons(sourceKey)]
    if (reasons.length > 0 || !Array.isArray(position))
      return { line, verdict: 'refused', notes: [...reasons, ...before], raw, tree: null, sourceKey }
    if (sourceKey !== null) this.lineOfKey.set(sourceKey, line)
    const notes = [...before, ...(this.axisNote ? [this.axisNote] : [])]
    const tag = this.freeTag(tagOf(row, sourceKey, line), sourceKey ?? `line ${line}`, notes)
    const { tree, notes: own } = readTree(row, this.mapping, position, tag)
    notes.push(...own)
    return { line, verdict: notes.length > 0 ? 'taken-with-notes' : 'taken', notes, raw, tree, sourceKey }
  }

  private keyReasons(sourceKey: string | null): Refusal[] {
    if (!this.hasKey) return []
    if (sourceKey === null)
      return [say('id-missing', 'sourceKey', 'The row has no stable identifier. Give it one.')]
    const first = this.lineOfKey.get(sourceKey)
    if (first === undefined) return []
    return [
      say(
        'id-duplicate',
        'sourceKey',
        `“${sourceKey}” stands on line ${first} already; that row was taken.`,
        {
          value: sourceKey,
          limit: `first on line ${first}`,
        },
      ),
    ]
  }

  private freeTag(tag: string, key: string, notes: Refusal[]): string {
    let free = tag
    for (let n = 1; this.tags.has(free); n++) free = shortTag(`${tag} (${key}${n > 1 ? `, ${n}` : ''})`)
    this.tags.add(free)
    if (free !== tag)
      notes.push(
        say(
          'tag-repeated',
          'tag',
          `The tag “${tag}” stands on another tree too; this one became “${free}”.`,
          { value: tag },
        ),
      )
    return free
  }
}
