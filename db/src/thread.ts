import { Worker, type WorkerOptions } from 'node:worker_threads'

/**
 * Starts a TypeScript module in a worker thread. Node 20 does not hand its loaders on to workers, so the thread registers
 * the loader itself and then imports the module.
 */
export function startThread(module: URL, options: Omit<WorkerOptions, 'eval'> = {}): Worker {
  const loader = import.meta.resolve('tsx/esm/api')
  const code = `import(${JSON.stringify(loader)}).then(({ register }) => { register(); return import(${JSON.stringify(module.href)}) })`
  return new Worker(code, { ...options, eval: true, execArgv: [] })
}
