import type { ShutHours } from './reckon.ts'

export const hour = (h: number) => `${String(h).padStart(2, '0')}:00`
export const dayNames = { every: 'every day', working: 'on working days', weekend: 'at weekends' } as const

/** `from 20:00 to 06:00 every day`. */
export const shutWords = ({ fromHour, toHour, days }: ShutHours) =>
  `from ${hour(fromHour)} to ${hour(toHour)} ${dayNames[days]}`
