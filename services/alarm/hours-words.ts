/** So many hours in words, never less than one: "1 hour", "5 hours". */
export function hoursWords(hours: number): string {
  const whole = Math.max(1, Math.round(hours))
  return whole === 1 ? '1 hour' : `${whole} hours`
}
