export { loadDemo } from './load.ts'
/** The password of every demo account. The demo is served on the loopback address only. */
export const demoPassword = 'under the lamp green'
