/** What a reader must know beside the figures: inputs that were not measured, and zones that do not fit together. */
export const exposureFlagSentences = {
  'height-estimated': 'The height was not measured; it was estimated from the stem diameter.',
  'stem-assumed': 'The stem diameter was not measured; it was taken from the height.',
  'crown-base-assumed': 'The height of the crown base was not measured; a share of the height was taken.',
  'crown-base-above-top': 'The crown base lies above the top of the tree; it was held below it.',
  'crown-radii-assumed': 'The crown was not measured; its radius was taken from the height.',
  'limb-assumed':
    'The limb was not measured; its length and thickness were taken from the crown and the stem.',
  'run-out-unbounded':
    'The ground is so steep that what falls slides or rolls on: how far is not bounded here. Draw the zone by hand.',
  'zones-overlap':
    'Two zones overlap and neither lies in the other nor is part of it: people there count twice.',
  'part-outside': 'A zone is said to be part of another but does not lie within it.',
  'part-holds-more': 'At some hours a part holds more people than the zone it is part of.',
  'zone-no-area': 'The zone has no area: nobody can be placed in it.',
  'later-arrivals-unbounded':
    'Drivers see less far than they need to stop: until they are warned later vehicles reach the tree, too, and no distance bounds their number.',
  'queue-density':
    'At some hours the road holds no more vehicles than a queue does: its flow was held to that.',
} as const

export type ExposureFlagCode = keyof typeof exposureFlagSentences

export interface ExposureFlag {
  code: ExposureFlagCode
  /** The zones it concerns; none where it concerns the tree. */
  zoneIds: string[]
}

export const flag = (code: ExposureFlagCode, ...zoneIds: string[]): ExposureFlag => ({ code, zoneIds })
