/** The map: one component, one port, and what can be said about places without either. */
export { boundsOf, contains, middleOf } from './area.ts'
export { FakeMap } from './fake.ts'
export { isOpen, passes } from './filter.ts'
export { GroundMap, type GroundMapProps, MapProvider } from './GroundMap.tsx'
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
  ViewState,
} from './port.ts'
export { type Bounds, type Squares, squaresOver } from './squares.ts'
