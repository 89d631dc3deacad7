/** The map: one component, one port, and what can be said about places without either. */
export { boundsOf, middleOf } from './area.ts'
export { passes } from './filter.ts'
export { GroundMap } from './GroundMap.tsx'
export { plainPicture } from './picture.ts'
export type {
  ExtraFeature,
  MapPicture,
  MapPort,
  MapTool,
  MapTree,
  RouteLine,
  SelectedTree,
  TreeFilter,
} from './port.ts'
export { type Bounds, type Squares, squaresOver } from './squares.ts'
