/** JSON of an older form, read member by member. */
type Members = Record<string, unknown>
const isMembers = (value: unknown): value is Members =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const within = (value: unknown, key: string, change: (inner: unknown) => unknown) =>
  isMembers(value) && key in value ? { ...value, [key]: change(value[key]) } : value
const withMissing = (members: Members) => (value: unknown) =>
  isMembers(value) ? { ...members, ...value } : value

/** Form 2: a step knows how well the device knew its place. */
const stepsWithAccuracy = (visit: unknown) =>
  within(visit, 'steps', (steps) =>
    Array.isArray(steps) ? steps.map(withMissing({ accuracyM: null })) : steps,
  )

/** From each form to the next; the last is what this program writes. */
const steps: Record<number, (kind: string, body: unknown) => unknown> = {
  1: (kind, body) => {
    if (kind === 'visit-draft') return stepsWithAccuracy(body)
    return kind === 'closing' ? within(body, 'visit', stepsWithAccuracy) : body
  },
  // Form 3: a photo may be a copy of another.
  2: (kind, body) => (kind === 'photo' ? withMissing({ copyOf: null, copyKind: null })(body) : body),
  // Form 4: a tree may say how the ground falls, and a scenario how large its limb is. Left out of a change they stay as they are.
  3: (_, body) => body,
}

/** A body in the present form. Each step adds what the older form could not say, as not said. */
export function upgraded(format: number, kind: string, body: unknown): unknown {
  const step = steps[format]
  return step ? upgraded(format + 1, kind, step(kind, body)) : body
}

/** An envelope in the present form: in form 1 a device did not say how far its clock was off. */
export const upgradedEnvelope = (format: number, envelope: unknown) =>
  format === 1 ? withMissing({ clockOffsetMs: null })(envelope) : envelope
