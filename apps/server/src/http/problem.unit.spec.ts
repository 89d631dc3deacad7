import { probeInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { refusalsOf } from './problem.ts'

const said = (schema: z.ZodType, input: unknown) =>
  refusalsOf(schema.safeParse(input).error!, input).map(({ message: _, ...rest }) => rest)
const own = (params: object) =>
  z.object({ a: z.object({ b: z.number().refine((n) => n < 5, { params, message: 'No.' }) }) })

describe('a failed check as refusals', () => {
  it('carries the code that the model declared, and its value or the one that was sent', () => {
    expect(said(own({ code: 'segments-overlap' }), { a: { b: 9 } })).toEqual([
      { code: 'segments-overlap', path: 'a.b', value: 9 },
    ])
    expect(said(own({ code: 'segments-overlap', value: 4.5 }), { a: { b: 9 } })[0]!.value).toBe(4.5)
    expect(said(own({ code: 'no code of ours' }), { a: { b: 9 } })[0]!.code).toBe('malformed')
  })

  it('tells what is missing from what is of another form', () => {
    const schema = z.object({ n: z.number() })
    expect(said(schema, {})).toEqual([{ code: 'required', path: 'n' }])
    expect(said(schema, { n: 'six' })).toEqual([{ code: 'malformed', path: 'n', value: 'six' }])
    expect(said(schema, { n: 'x'.repeat(3000) })[0]!.value).toBeUndefined()
    expect(refusalsOf(schema.safeParse({}).error!)[0]!.code).toBe('required')
  })

  it('states a limit as it is meant, with its end or without', () => {
    const schema = z.object({ open: z.number().gt(0).lt(360), shut: z.number().min(-60).max(60) })
    const limits = (open: number, shut: number) => said(schema, { open, shut }).map((r) => r.limit)
    expect(limits(360, 61)).toEqual(['below 360', 'at most 60'])
    expect(limits(0, -61)).toEqual(['above 0', 'at least -60'])
  })

  it('names the field of the form that came nearest, however deep the unions lie', () => {
    const inner = z.union([
      z.object({ by: z.literal('girth'), girthCm: z.number() }),
      z.object({ by: z.literal('radii'), radii: z.array(z.object({ cm: z.number().max(9) })) }),
    ])
    const schema = z.object({
      it: z.union([z.object({ inner }), z.object({ other: z.number(), b: z.number() })]),
    })
    expect(said(schema, { it: { inner: { by: 'radii', radii: [{ cm: 1 }, { cm: 'x' }] } } })).toEqual([
      { code: 'malformed', path: 'it.inner.radii.1.cm', value: 'x' },
    ])
    expect(said(schema, { it: { inner: { by: 'girth' } } })).toEqual([
      { code: 'required', path: 'it.inner.girthCm' },
    ])
    expect(said(z.object({ level: z.union([z.literal(1), z.literal(2)]) }), { level: 7 })).toEqual([
      { code: 'malformed', path: 'level', value: 7 },
    ])
  })

  it('names the word that tells the kinds apart where that one is wrong', () => {
    expect(said(probeInput, { kind: 'x-ray' })).toEqual([{ code: 'malformed', path: 'kind', value: 'x-ray' }])
  })
})
