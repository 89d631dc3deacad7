import { bodyLimit } from 'hono/body-limit'
import { problem } from './problem.ts'

/** Takes bodies up to a size; a larger one is refused (`too-large`) before it is read. `then` says what to do. */
export const upTo = (maxBytes: number, then: string) => {
  const limit = `at most ${maxBytes / 1024 / 1024} MiB`
  return bodyLimit({
    maxSize: maxBytes,
    onError: (c) =>
      problem(c, [
        {
          code: 'too-large',
          path: '',
          limit,
          message: `This is larger than what is taken, ${limit}. ${then}`,
        },
      ]),
  })
}
