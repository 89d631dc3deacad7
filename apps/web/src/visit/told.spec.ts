import { urgentNoteInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { newUrgent, noteOf, stillToSay, telephoneAddress } from './told.ts'

const [noteId, treeId, visitId] = Array.from({ length: 3 }, () => crypto.randomUUID()) as [
  string,
  string,
  string,
]
const at = (hours: number, minutes: number) => new Date(2026, 10, 25, hours, minutes).toISOString()
const begun = {
  ...newUrgent(noteId, at(14, 0)),
  keptOut: true,
  interimClosure: ' The path, until the morning. ',
}

describe('an urgent note', () => {
  it('names one person plainly, and several each with how and when, in the order they were told', () => {
    const one = noteOf(
      { ...begun, told: [{ whom: ' The park keeper ', how: 'in person', at: at(14, 2) }] },
      treeId,
      visitId,
    )
    expect(one).toMatchObject({ toldWhom: 'The park keeper', toldHow: 'in person', toldAt: at(14, 2) })
    const told = [
      { whom: 'Harbour watch', how: 'by telephone', at: at(14, 9) },
      { whom: 'The park keeper', how: 'in person', at: at(14, 2) },
      { whom: 'The school', how: 'by telephone', at: at(14, 11) },
      { whom: '', how: '', at: at(14, 12) },
    ]
    const several = noteOf({ ...begun, told }, treeId, visitId)
    expect(several).toEqual({
      id: noteId,
      treeId,
      visitId,
      keptOut: true,
      toldWhom:
        'The park keeper (in person, 14:02); Harbour watch (by telephone, 14:09); The school (by telephone, 14:11)',
      toldHow: 'in person, by telephone',
      toldAt: at(14, 2),
      interimClosure: 'The path, until the morning.',
    })
    expect(urgentNoteInput.parse(several)).toEqual(several)
  })

  it('says in order what is missing, and nothing once the office would take it', () => {
    const empty = newUrgent(noteId, at(14, 0))
    expect(stillToSay(empty)).toEqual(['whether people are kept out', 'who was told', 'how'])
    const told = [{ whom: 'The park keeper', how: '', at: at(14, 2) }]
    expect(stillToSay({ ...begun, told })).toEqual(['how'])
    const whole = { ...begun, told: [{ ...told[0]!, how: 'in person' }] }
    expect(stillToSay(whole)).toEqual([])
    expect(urgentNoteInput.safeParse(noteOf(whole, treeId, visitId)).success).toBe(true)
    const many = Array.from({ length: 9 }, (_, i) => ({
      whom: `The keeper of gate ${i}`,
      how: 'by radio',
      at: at(14, i),
    }))
    expect(urgentNoteInput.safeParse(noteOf({ ...begun, told: many }, treeId, visitId)).success).toBe(false)
    expect(stillToSay({ ...begun, told: many })[0]).toMatch(/fewer words/)
  })

  // RFC 3966, section 3: a global number begins with "+"; no blanks. The first is from its section 6; the second lies in a range kept for
  // fiction (from memory).
  it.each([
    ['+1-201-555-0123', 'tel:+12015550123'],
    ['+44 (20) 7946 0018', 'tel:+442079460018'],
    ['0 55 55', 'tel:05555'],
  ])('calls %s', (written, address) => {
    expect(telephoneAddress(written)).toBe(address)
  })
})
