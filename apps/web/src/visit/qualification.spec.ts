import { describe, expect, it } from 'vitest'
import { sayQualification } from './qualification.ts'

const holder = (qualificationExpiresOn: string | null) => ({
  qualification: 'Basic looks',
  qualificationExpiresOn,
})

// Common practice, no source: who looked, and with what qualification on that day, belongs to what a court asks.
describe('the qualification of who looks', () => {
  it('holds to the end of its last day', () => {
    expect(sayQualification(holder('2026-11-25'), '2026-11-25').words).not.toContain('has expired')
    expect(sayQualification(holder('2026-11-24'), '2026-11-25').words).toContain('has expired')
  })
  it('is spoken of before it ends, when it has ended, and when there is none', () => {
    const minds = ['2028-01-01', '2026-12-20', '2026-01-01'].map(
      (on) => sayQualification(holder(on), '2026-11-25').minds,
    )
    expect(minds).toEqual([false, true, true])
    expect(sayQualification({ qualification: null }, '2026-11-25')).toMatchObject({ minds: true })
    expect(sayQualification(holder(null), '2026-11-25').minds).toBe(false)
  })
})
