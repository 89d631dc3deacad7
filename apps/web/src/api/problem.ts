import { type Refusal, type RefusalCode, refusalCodes } from '@underbough/model'

/** An account offered at the door of a demo. */
export interface DemoAccount {
  email: string
  role: string
  name: string
  password: string
}

/** The server, or the way to it, said no. `refusals` is never empty. */
export class Refused extends Error {
  constructor(
    /** HTTP status; 0 when no answer came at all. */
    readonly status: number,
    readonly refusals: readonly Refusal[],
    /** What the server holds now, beside a conflict. */
    readonly current?: unknown,
    readonly demo: readonly DemoAccount[] = [],
  ) {
    super(refusals.map((r) => r.message).join(' '))
    this.name = 'Refused'
  }
  has(code: RefusalCode): boolean {
    return this.refusals.some((r) => r.code === code)
  }
}

const isObject = (x: unknown): x is Record<string, unknown> => typeof x === 'object' && x !== null

function refusalOf(x: unknown): Refusal | null {
  if (!isObject(x) || typeof x.code !== 'string' || !(x.code in refusalCodes)) return null
  const code = x.code as RefusalCode
  return {
    code,
    path: typeof x.path === 'string' ? x.path : '',
    ...('value' in x ? { value: x.value } : {}),
    ...(typeof x.limit === 'string' ? { limit: x.limit } : {}),
    message: typeof x.message === 'string' && x.message ? x.message : refusalCodes[code],
  }
}

function codeOfStatus(status: number): RefusalCode {
  if (status === 401) return 'signed-out'
  if (status === 403) return 'forbidden'
  if (status === 404) return 'unknown'
  if (status === 409) return 'conflict'
  if (status === 413) return 'too-large'
  return status >= 500 ? 'unavailable' : 'malformed'
}

/**
 * Reads a problem document (RFC 9457). A body that is none, or that names codes of a newer server, still gives one
 * refusal, chosen by the status and carrying the document's own sentence where it has one.
 */
export function readProblem(status: number, body: unknown): Refused {
  const doc = isObject(body) ? body : {}
  const list = Array.isArray(doc.refusals)
    ? doc.refusals.map(refusalOf).filter((r): r is Refusal => r !== null)
    : []
  if (list.length === 0) {
    const code = codeOfStatus(status)
    const words = [doc.detail, doc.title].find((w) => typeof w === 'string' && w)
    list.push({ code, path: '', message: (words as string | undefined) ?? refusalCodes[code] })
  }
  const demo = Array.isArray(doc.demo) ? (doc.demo.filter(isObject) as unknown as DemoAccount[]) : []
  return new Refused(status, list, doc.current, demo)
}

/** No answer came: the network, not the server, said no. */
export const noSignal = () =>
  new Refused(0, [
    {
      code: 'unavailable',
      path: '',
      message: 'No signal: the office did not answer. Nothing was changed there.',
    },
  ])

/** No answer came: nothing was refused, it only has to be asked again. */
export const isSilence = (error: unknown): boolean =>
  error instanceof Refused && (error.status === 0 || error.status >= 502)

/** The refusals of whatever was thrown, for a form or a bar. */
export function refusalsOf(error: unknown): readonly Refusal[] {
  if (!error) return []
  if (error instanceof Refused) return error.refusals
  const message = error instanceof Error ? error.message : refusalCodes['internal-fault']
  return [{ code: 'internal-fault', path: '', message }]
}
