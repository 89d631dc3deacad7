import type { UrgentNote } from '@underbough/model'

/** Who was told and how, without a stop. Several people stand in one line, each with how and when. */
export const sayTold = ({ toldWhom, toldHow }: Pick<UrgentNote, 'toldWhom' | 'toldHow'>): string =>
  toldWhom.includes('(') ? toldWhom : `${toldWhom}, ${toldHow}`
