import { withoutMetadata } from '@underbough/field'

/** The longer side of a copy for screens, pixels: sharp on a large screen, and a tenth of a camera's bytes. */
export const SCREEN_PX = 1600
const QUALITY = 0.82

/** Width and height that fit, never larger than they are. */
export function fitted(width: number, height: number, most = SCREEN_PX): { width: number; height: number } {
  const share = Math.min(1, most / Math.max(width, height, 1))
  return { width: Math.max(1, Math.round(width * share)), height: Math.max(1, Math.round(height * share)) }
}

/** What may be drawn on a copy before it is kept: after the picture, over its whole size in pixels. */
export type Draw = (pen: CanvasRenderingContext2D, width: number, height: number) => void

/**
 * A JPEG of at most 1600 px that carries the picture and nothing else. Null where this browser cannot draw the file, as often with HEIC:
 * then the original stands alone.
 */
export async function copyOf(picture: Blob, draw?: Draw): Promise<Blob | null> {
  try {
    const image = await createImageBitmap(picture, { imageOrientation: 'from-image' })
    const size = fitted(image.width, image.height)
    const canvas = Object.assign(document.createElement('canvas'), size)
    const pen = canvas.getContext('2d')
    if (!pen) return null
    pen.imageSmoothingQuality = 'high'
    pen.drawImage(image, 0, 0, size.width, size.height)
    image.close()
    draw?.(pen, size.width, size.height)
    const made = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', QUALITY))
    // Browsers differ in what they write beside the picture; none of it leaves.
    const bare = made && withoutMetadata(new Uint8Array(await made.arrayBuffer()))
    return bare ? new Blob([bare], { type: 'image/jpeg' }) : null
  } catch {
    return null
  }
}
