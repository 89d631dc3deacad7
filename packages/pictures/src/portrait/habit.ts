import type { Habit } from './types.ts'

// Usual habit of well-known genera and forms: common knowledge of the trade, no source. Only the drawing depends on it.
const forms: readonly [RegExp, Habit][] = [
  [/['‘“](fastigiata|italica|columnaris|stricta|pyramidalis)/i, 'columnar'],
  [/['‘“](pendula|tristis|weeping)/i, 'weeping'],
  [/\bcupressus sempervirens\b/i, 'columnar'],
  [/\bsalix (babylonica|[×x] ?sepulcralis|[×x] ?pendulina)\b/i, 'weeping'],
  [
    /\b(phoenix|washingtonia|trachycarpus|syagrus|archontophoenix|livistona|chamaerops|butia|cocos|sabal|cordyline|roystonea)\b/i,
    'palm',
  ],
  [
    /\b(picea|abies|larix|pseudotsuga|metasequoia|taxodium|araucaria|sequoia|sequoiadendron|tsuga|cryptomeria|thuja|chamaecyparis|cedrus deodara)\b/i,
    'conical',
  ],
]

/** Rough habit of a species by its botanical name; round where nothing else is known. */
export const habitOf = (species: string): Habit => forms.find(([form]) => form.test(species))?.[1] ?? 'round'
