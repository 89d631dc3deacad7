import { type ReactNode, useEffect, useState } from 'react'
import { Loading } from '../look/index.ts'
import { type KeptReading, takeUpReading } from './store.ts'

/** Holds the first picture of a reading: what arrives later must not change it under a person's thumb. */
export function Begun(props: {
  find(): Promise<KeptReading | null>
  onNone(): void
  children(initial: KeptReading): ReactNode
}) {
  const [initial, setInitial] = useState<KeptReading | null>(null)
  const { find, onNone } = props
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked for once; the key changes with the reading
  useEffect(() => {
    let here = true
    void find().then((found) => {
      if (!here) return
      if (found) setInitial(found)
      else onNone()
    })
    return () => {
      here = false
    }
  }, [])
  return initial ? props.children(initial) : <Loading>Looking for it on this device.</Loading>
}

/** A reading this device keeps, taken up again: it waits until it is handed in anew. null where it is not here, or nothing is kept. */
export async function takeUp(id: string, personId: string): Promise<KeptReading | null> {
  return takeUpReading(id, personId).catch(() => null)
}
