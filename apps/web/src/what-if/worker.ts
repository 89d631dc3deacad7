import { type Answer, reckonAll, type Task } from './task.ts'

/** Many trees over a changed zone, off the page's own thread. */
self.onmessage = ({ data }: MessageEvent<{ id: number; task: Task }>) => {
  self.postMessage({ id: data.id, answer: reckonAll(data.task) } satisfies { id: number; answer: Answer })
}
