/**
 * How well heartwood withstands decay, by species or genus. Source: USDA Forest Products Laboratory, Wood Handbook, table "Grouping of some
 * domestic woods according to average heartwood decay resistance" (American species), and EN 350 (European species); both from memory.
 * They describe heartwood in use, not the living tree, which also walls decay off.
 */
const handbook = 'Wood Handbook, average heartwood decay resistance, from memory'
const en350 = 'EN 350, natural durability of heartwood, from memory'

export interface DecayNote {
  text: string
  source: string
  basis: 'memory'
}
const note = (text: string, source: string): DecayNote => ({ text, source, basis: 'memory' })

const very = 'Heartwood exceptionally resistant to decay.'
const resistant = 'Heartwood resistant to decay.'
const moderate = 'Heartwood moderately resistant to decay.'
const ageing = 'Heartwood of old-growth trees resistant to decay, of young ones less so.'
const little = 'Heartwood slightly or not resistant to decay.'

const american: Readonly<Record<string, string>> = {
  'Robinia pseudoacacia': very,
  'Morus rubra': very,
  Catalpa: resistant,
  Juniperus: resistant,
  'Thuja occidentalis': resistant,
  'Thuja plicata': resistant,
  'Juglans nigra': resistant,
  'Quercus alba': resistant,
  'Quercus macrocarpa': resistant,
  'Quercus stellata': resistant,
  'Sequoia sempervirens': ageing,
  'Taxodium distichum': ageing,
  'Pseudotsuga menziesii': moderate,
  'Gleditsia triacanthos': moderate,
  'Larix occidentalis': moderate,
  'Pinus strobus': moderate,
  'Pinus palustris': moderate,
  'Pinus elliottii': moderate,
  'Quercus rubra': little,
  'Quercus velutina': little,
  'Quercus palustris': little,
  'Quercus coccinea': little,
  Alnus: little,
  Acer: little,
  Aesculus: little,
  Betula: little,
  'Fagus grandifolia': little,
  'Fraxinus americana': little,
  'Fraxinus pennsylvanica': little,
  'Fraxinus nigra': little,
  Carya: little,
  'Celtis occidentalis': little,
  'Liquidambar styraciflua': little,
  'Liriodendron tulipifera': little,
  Magnolia: little,
  'Platanus occidentalis': little,
  Populus: little,
  Salix: little,
  'Tilia americana': little,
  Tsuga: little,
  Ulmus: little,
  Abies: little,
}
const european: Readonly<Record<string, string>> = {
  'Castanea sativa': 'Heartwood durable.',
  'Quercus robur': 'Heartwood durable to slightly durable.',
  'Quercus petraea': 'Heartwood durable to slightly durable.',
  'Taxus baccata': 'Heartwood durable.',
  'Juglans regia': 'Heartwood moderately durable.',
  'Larix decidua': 'Heartwood moderately to slightly durable.',
  'Pinus sylvestris': 'Heartwood moderately to slightly durable.',
  'Picea abies': 'Slightly durable.',
  'Fagus sylvatica': 'Not durable.',
  'Fraxinus excelsior': 'Not durable.',
  'Acer pseudoplatanus': 'Not durable.',
  'Tilia cordata': 'Not durable.',
  'Tilia europaea': 'Not durable.',
  'Carpinus betulus': 'Not durable.',
  'Aesculus hippocastanum': 'Not durable.',
  'Betula pendula': 'Not durable.',
}

/** What a published source says of this species' heartwood, else of its genus where the source names the genus; null where none does. */
export function decayOf(latin: string): DecayNote | null {
  const genus = latin.split(' ')[0]!
  if (european[latin]) return note(european[latin], en350)
  const found = american[latin] ?? american[genus]
  return found ? note(found, handbook) : null
}
