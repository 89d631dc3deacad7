import { closeSync, mkdirSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs'
import { join } from 'node:path'

/** Folders this process holds: a lock with our own number that is not in here was left by an earlier process of that number. */
const held = new Set<string>()

/**
 * Takes a folder for this process alone. Two processes on one embedded database destroy it, and the database itself takes no lock.
 * A lock left by a process that is gone is taken over. Returns the release.
 * @throws Error naming the process that holds the folder.
 */
export function lockFolder(folder: string): () => void {
  mkdirSync(folder, { recursive: true })
  const path = join(folder, 'lock')
  for (;;) {
    try {
      const file = openSync(path, 'wx')
      writeSync(file, String(process.pid))
      closeSync(file)
      break
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error
      const holder = Number(readFileSync(path, 'utf8')) || 0
      if (held.has(path) || (holder !== process.pid && isRunning(holder)))
        throw new Error(
          `The folder ${folder} is in use by process ${holder}. Stop that one first, or choose another folder with UNDERBOUGH_DATA.`,
        )
      rmSync(path, { force: true })
    }
  }
  held.add(path)
  const release = () => {
    held.delete(path)
    rmSync(path, { force: true })
  }
  process.once('exit', release)
  return () => {
    process.off('exit', release)
    release()
  }
}

function isRunning(pid: number): boolean {
  if (!pid) return false
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}
