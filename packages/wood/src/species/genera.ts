/** Conifers and ginkgo; everything else in the tables is broad-leaved. */
export type WoodGroup = 'hardwood' | 'softwood'

/** Genera of the softwoods. */
export const softwoodGenera: ReadonlySet<string> = new Set(
  'Abies Araucaria Calocedrus Cedrus Cephalotaxus Chamaecyparis Cryptomeria Cunninghamia Cupressus Cupressocyparis Ginkgo Juniperus Larix Metasequoia Picea Pinus Platycladus Podocarpus Pseudolarix Pseudotsuga Sciadopitys Sequoia Sequoiadendron Taxodium Taxus Thuja Thujopsis Torreya Tsuga'.split(
    ' ',
  ),
)

/** What genera are called in English. */
export const genusNames: Readonly<Record<string, readonly string[]>> = {
  Abies: ['fir'],
  Acer: ['maple'],
  Aesculus: ['horse-chestnut', 'buckeye'],
  Amelanchier: ['serviceberry'],
  Alnus: ['alder'],
  Betula: ['birch'],
  Carpinus: ['hornbeam'],
  Carya: ['hickory'],
  Castanea: ['chestnut'],
  Celtis: ['hackberry', 'nettle tree'],
  Chamaecyparis: ['falsecypress'],
  Cornus: ['dogwood'],
  Corylus: ['hazel'],
  Crataegus: ['hawthorn'],
  Eucalyptus: ['eucalyptus', 'eucalypt'],
  Elaeagnus: ['oleaster'],
  Fagus: ['beech'],
  Fraxinus: ['ash'],
  Juglans: ['walnut'],
  Juniperus: ['juniper'],
  Larix: ['larch'],
  Laburnum: ['laburnum'],
  Magnolia: ['magnolia'],
  Malus: ['apple', 'crabapple'],
  Morus: ['mulberry'],
  Picea: ['spruce'],
  Pinus: ['pine'],
  Platanus: ['plane', 'planetree'],
  Populus: ['poplar', 'cottonwood', 'aspen'],
  Prunus: ['cherry', 'plum'],
  Pyrus: ['pear'],
  Quercus: ['oak'],
  Robinia: ['robinia', 'false acacia'],
  Salix: ['willow'],
  Syringa: ['lilac'],
  Sorbus: ['rowan', 'whitebeam'],
  Taxus: ['yew'],
  Thuja: ['thuja', 'arborvitae'],
  Tilia: ['lime', 'linden', 'basswood'],
  Tsuga: ['hemlock'],
  Ulmus: ['elm'],
  Zelkova: ['zelkova'],
}

/** Words that name trees of several genera, or no genus at all: no more than the group can be told. */
export const groupWords: ReadonlyMap<string, WoodGroup> = new Map([
  ['broadleaf', 'hardwood'],
  ['broadleaved', 'hardwood'],
  ['cedar', 'softwood'],
  ['conifer', 'softwood'],
  ['cypress', 'softwood'],
  ['gum', 'hardwood'],
  ['hardwood', 'hardwood'],
  ['locust', 'hardwood'],
  ['softwood', 'softwood'],
  ['sycamore', 'hardwood'],
])
