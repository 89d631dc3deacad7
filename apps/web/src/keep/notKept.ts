import { type Refusal, refusal } from '@underbough/model'

const isFull = (error: unknown): boolean => {
  const { name = '', inner } = (error ?? {}) as { name?: string; inner?: { name?: string } }
  return /quota/i.test(`${name} ${inner?.name ?? ''}`)
}

/** Why a write to this device failed, in words that name what was not kept. */
export function refusalOfKeeping(error: unknown, what: string): Refusal {
  return refusal('storage-full', '', {
    message: isFull(error)
      ? `This device has no room left, so ${what} was not kept on it. What was kept before is still there. Make room, then try once more.`
      : `This browser did not let ${what} be kept on this device. What was kept before is still there. Do not leave this page; try once more.`,
  })
}
