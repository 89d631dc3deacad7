import type { Section, SectionAt } from '@underbough/wood'
import { Reasons } from '../../look/index.ts'
import { leftWords, outlineWords } from './facts.ts'

/** What a section stands on, what it leaves out, and how to draw it again. */
export function SectionReasons({ at, section }: { at: SectionAt; section: Section }) {
  const sentences = [
    outlineWords(section, at.probes),
    ...section.assumptions,
    ...section.notes.map((note) => note.message),
    leftWords(at.left) ?? '',
    ...section.notAssessed,
    ...(section.rose
      ? [
          'The figures take the weakest bearing of each drawn wall by itself; a line of the rose takes one bearing for all of them, so it may lie a little higher there.',
        ]
      : []),
    `Widest gap between two readings: ${Math.round(section.widestGapDeg)}°.`,
    `Method ${section.methodVersion}${section.draws > 0 ? `, ${section.draws} walls drawn from seed ${section.seed}` : ''}. The same readings give the same figures on every device.`,
  ].filter(Boolean)
  return (
    <Reasons>
      {[...new Set(sentences)].map((sentence) => (
        <span key={sentence} className="reason">
          {sentence}
        </span>
      ))}
    </Reasons>
  )
}
