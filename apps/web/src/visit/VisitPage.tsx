export default function VisitPage() {
  return null
}
