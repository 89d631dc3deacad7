/** One thing to fetch ahead, as the office names it. */
export interface PackFile {
  at: string
  /** Exact for photos, else about. */
  bytes: number
  part: 'day' | 'trees' | 'map' | 'photos'
  treeId: string | null
}

/** What fetching needs of the device and of the way to the office. */
export interface PackPorts {
  /** When an address was last kept on this device; null where it is not. */
  keptAt(at: string): Promise<Date | null>
  /** The body of an address. Throws where the office refuses or is silent. */
  fetch(at: string, signal: AbortSignal): Promise<Blob>
  /** Throws where the device has no room. */
  keep(at: string, body: Blob): Promise<void>
  isSilence(error: unknown): boolean
  now(): Date
}

export interface Progress {
  gotBytes: number
  allBytes: number
  /** Trees of which everything has come. */
  trees: number
  ofTrees: number
  failed: PackFile[]
  /** The device had no room for the rest. */
  full: boolean
}

const WORKERS = 4
/** After as many silences in a row the rest is left for another time. */
const MOST_SILENCES = 4
/** A piece of the map is fetched anew once a day; the map itself brings newer ones as it is looked at. */
const MAP_LASTS_MS = 12 * 3_600_000

/**
 * Fetches what a day needs, four at a time, the day's own answers first. What was kept since `since` is not fetched again, so that a run
 * that was cut goes on. Ends with what did not come; never throws.
 */
export async function fetchPack(
  files: readonly PackFile[],
  since: Date,
  ports: PackPorts,
  tell: (progress: Progress) => void,
  signal: AbortSignal,
): Promise<Progress> {
  const count = new Count(files)
  const waiting = [...files]
  let silences = 0
  const work = async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) {
      if (signal.aborted || count.full || silences >= MOST_SILENCES) {
        count.failed.push(file)
        continue
      }
      try {
        if (isStillGood(file, await ports.keptAt(file.at), since, ports.now())) count.got(file, file.bytes)
        else count.got(file, await fetchOne(file, ports, signal, count))
        silences = 0
      } catch (error) {
        count.failed.push(file)
        if (ports.isSilence(error)) silences++
      }
      tell(count.progress())
    }
  }
  await Promise.all(Array.from({ length: WORKERS }, work))
  return count.progress()
}

async function fetchOne(
  file: PackFile,
  ports: PackPorts,
  signal: AbortSignal,
  count: Count,
): Promise<number> {
  const body = await ports.fetch(file.at, signal)
  await ports.keep(file.at, body).catch((error: unknown) => {
    count.full = true
    throw error
  })
  return body.size
}

function isStillGood(file: PackFile, keptAt: Date | null, since: Date, now: Date): boolean {
  if (!keptAt) return false
  if (file.part === 'photos') return true
  if (file.part === 'map') return now.getTime() - keptAt.getTime() < MAP_LASTS_MS
  return keptAt >= since
}

class Count {
  full = false
  readonly failed: PackFile[] = []
  private gotBytes = 0
  private restBytes: number
  private open = new Map<string, number>()
  private ofTrees: number

  constructor(files: readonly PackFile[]) {
    this.restBytes = files.reduce((sum, file) => sum + file.bytes, 0)
    for (const { treeId } of files) if (treeId) this.open.set(treeId, (this.open.get(treeId) ?? 0) + 1)
    this.ofTrees = this.open.size
  }
  got(file: PackFile, bytes: number): void {
    this.gotBytes += bytes
    this.restBytes -= file.bytes
    if (!file.treeId) return
    const left = this.open.get(file.treeId)! - 1
    if (left === 0) this.open.delete(file.treeId)
    else this.open.set(file.treeId, left)
  }
  progress(): Progress {
    return {
      gotBytes: this.gotBytes,
      allBytes: this.gotBytes + this.restBytes,
      trees: this.ofTrees - this.open.size,
      ofTrees: this.ofTrees,
      failed: [...this.failed],
      full: this.full,
    }
  }
}
