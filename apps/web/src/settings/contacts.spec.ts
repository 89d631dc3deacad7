import { siteInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { contactsOf } from './ContactsPart.tsx'

const one = { name: 'A. Bell', role: 'Gatekeeper', telephone: '0 55 55', note: '' }

describe('the people of a site', () => {
  it('leaves empty lines out, trims the rest, and sends what the office takes', () => {
    const { contacts, refusals } = contactsOf([
      { ...one, name: ' A. Bell ' },
      { name: '', role: ' ', telephone: '', note: '' },
    ])
    expect([contacts, refusals]).toEqual([[one], []])
    expect(siteInput.shape.contacts.parse(contacts)).toEqual([one])
  })

  it('says at its field what is missing or too long', () => {
    const { refusals } = contactsOf([one, { ...one, telephone: '' }, { ...one, note: 'x'.repeat(401) }])
    expect(refusals.map(({ code, path }) => [code, path])).toEqual([
      ['required', 'contacts.1.telephone'],
      ['too-large', 'contacts.2.note'],
    ])
  })
})
