import type { PackFile, Progress } from './fetch.ts'

/** `3.1 MB`; `0.1 MB` for anything less. */
export const sayMegabytes = (bytes: number): string => `${megabytes(bytes)} MB`
const megabytes = (bytes: number) => Math.max(0.1, bytes / 1e6).toFixed(1)

/** `3.1 of 8.4 MB: trees 12 of 40`. */
export const sayProgress = ({ gotBytes, allBytes, trees, ofTrees }: Progress): string =>
  `${megabytes(gotBytes)} of ${sayMegabytes(allBytes)}: trees ${trees} of ${ofTrees}`

const names: Record<PackFile['part'], readonly [string, string]> = {
  day: ['part of the day itself', 'parts of the day itself'],
  trees: ['record of a tree', 'records of trees'],
  map: ['piece of the map', 'pieces of the map'],
  photos: ['photo', 'photos'],
}
/** `2 photos and 1 piece of the map`. */
export function sayFailed(failed: readonly PackFile[]): string {
  const parts = (Object.keys(names) as PackFile['part'][]).flatMap((part) => {
    const count = failed.filter((file) => file.part === part).length
    return count === 0 ? [] : [`${count} ${names[part][count === 1 ? 0 : 1]}`]
  })
  const last = parts.pop() ?? ''
  return parts.length > 0 ? `${parts.join(', ')} and ${last}` : last
}
