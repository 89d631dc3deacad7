export default function PaperPage() {
  return null
}
