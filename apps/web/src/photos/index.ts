/** Photos: taken, kept on the device, shown, marked. The original bytes are never changed. */
export { sayBytes } from './digest.ts'
export { movePhotos } from './keep.ts'
export { PhotoNews, PhotoPress } from './PhotoPress.tsx'
export { PhotoStrip } from './PhotoStrip.tsx'
export type { ShownPhoto } from './shown.ts'
export { usePhotos } from './usePhotos.ts'
export { type Taking, useTaking } from './useTaking.ts'
