/** The parts of culori that the colour checks use; the library brings no types of its own. */
declare module 'culori' {
  export type Colour = string | { mode: string; l?: number; a?: number; b?: number; c?: number; h?: number }
  /** WCAG 2 contrast ratio of two colours. */
  export function wcagContrast(a: Colour, b: Colour): number
  /** CIEDE2000 colour difference. */
  export function differenceCiede2000(): (a: Colour, b: Colour) => number
  /** Simulation of a colour-vision deficiency after Machado, Oliveira and Fernandes (2009); 1 for the full strength. */
  export function filterDeficiencyProt(severity: number): (colour: Colour) => Colour
  export function filterDeficiencyDeuter(severity: number): (colour: Colour) => Colour
  export function filterDeficiencyTrit(severity: number): (colour: Colour) => Colour
  export function converter(mode: 'oklch' | 'lab65'): (colour: Colour) => { l: number; a: number; b: number }
}
