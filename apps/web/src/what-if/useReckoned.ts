import { useEffect, useRef, useState } from 'react'
import type { Answer, Task } from './task.ts'

/**
 * What a task comes to, worked out in a thread of its own. While a newer one is at work the last answer stands, marked so by
 * `current`; what was asked meanwhile and is no longer wanted is left out.
 */
export function useReckoned(task: Task | null): { answer: Answer | null; current: boolean } {
  const [state, setState] = useState<{ answer: Answer; of: Task } | null>(null)
  const worker = useRef<Worker | null>(null)
  const asked = useRef<{ atWork: Task | null; next: Task | null }>({ atWork: null, next: null })
  useEffect(() => {
    const made = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
    worker.current = made
    const queue = asked.current
    queue.atWork = null
    queue.next = null
    const begin = (of: Task) => {
      queue.atWork = of
      made.postMessage({ id: 0, task: of })
    }
    made.onmessage = ({ data }: MessageEvent<{ answer: Answer }>) => {
      if (queue.atWork) setState({ answer: data.answer, of: queue.atWork })
      const { next } = queue
      queue.atWork = null
      queue.next = null
      if (next) begin(next)
    }
    return () => {
      made.terminate()
      worker.current = null
    }
  }, [])
  useEffect(() => {
    if (!task || !worker.current) return
    const queue = asked.current
    if (queue.atWork) queue.next = task
    else {
      queue.atWork = task
      worker.current.postMessage({ id: 0, task })
    }
  }, [task])
  return { answer: state?.answer ?? null, current: state !== null && state.of === task }
}
