import { createHash } from 'node:crypto'
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Browser, chromium } from 'playwright-core'
import { browserArguments, browserPath } from '../../browser/chromium.ts'

/** A photo as a camera leaves it: a file, and the SHA-256 of its bytes. */
export interface Picture {
  path: string
  sha256: string
  bytes: number
}

/** Draws seeded pictures with a canvas, encodes them as JPEG and lays them in a folder. No two have the same bytes, nor the same content. */
export async function drawPictures(folder: string, count: number, seed: number): Promise<Picture[]> {
  mkdirSync(folder, { recursive: true })
  const browser: Browser = await chromium.launch({ executablePath: browserPath, args: browserArguments })
  try {
    const page = await browser.newPage()
    const pictures: Picture[] = []
    for (let at = 0; at < count; at += 20) {
      const encoded = await page.evaluate(drawInPage, { from: at, to: Math.min(count, at + 20), seed })
      for (const [i, text] of encoded.entries()) {
        const content = Buffer.from(text, 'base64')
        const path = join(folder, `${seed}-${at + i}.jpg`)
        writeFileSync(path, content)
        pictures.push({
          path,
          bytes: content.length,
          sha256: createHash('sha256').update(content).digest('hex'),
        })
      }
    }
    return pictures
  } finally {
    await browser.close()
  }
}

/** In the page: bark-like stripes with noise, 640 × 480, between 20 and 60 kB. */
async function drawInPage({ from, to, seed }: { from: number; to: number; seed: number }): Promise<string[]> {
  const out: string[] = []
  for (let i = from; i < to; i++) {
    const canvas = new OffscreenCanvas(640, 480)
    const pen = canvas.getContext('2d')!
    // A method, since a function with a name of its own does not survive the way into the page.
    const dice = {
      state: (seed * 7919 + i * 104729) | 0,
      roll() {
        this.state = (Math.imul(this.state ^ (this.state >>> 15), 2246822519) + 3266489917) | 0
        return ((this.state ^ (this.state >>> 13)) >>> 0) / 2 ** 32
      },
    }
    for (let line = 0; line < 1500; line++) {
      pen.strokeStyle = `hsl(${20 + 30 * dice.roll()} ${20 + 30 * dice.roll()}% ${15 + 50 * dice.roll()}%)`
      pen.lineWidth = 1 + 4 * dice.roll()
      const [x, y] = [640 * dice.roll(), 480 * dice.roll()]
      pen.beginPath()
      pen.moveTo(x, y)
      pen.lineTo(x + 20 * (dice.roll() - 0.5), y + 90 * dice.roll())
      pen.stroke()
    }
    const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.35 })
    const bytes = new Uint8Array(await blob.arrayBuffer())
    out.push(btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join('')))
  }
  return out
}
