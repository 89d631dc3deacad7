/** Urgent notes as the office meets them. */
export { AcknowledgeDialog } from './AcknowledgeDialog.tsx'
export { UrgentBar } from './UrgentBar.tsx'
export { sayTold } from './words.ts'
