import type { Ground } from '../look/ground.ts'
import type { MapPicture } from './port.ts'

/** A picture that shows every tree and nothing else: pages say only what differs from it. */
export const plainPicture = (ground: Ground, version: MapPicture['version']): MapPicture => ({
  ground,
  version,
  filter: {},
  selectedTree: null,
  selectedZoneId: null,
  fall: null,
  routes: [],
  lasso: null,
  extra: null,
  features: null,
  markScale: 1,
})
