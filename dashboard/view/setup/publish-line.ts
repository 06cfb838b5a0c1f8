/** A line for the console that publishes one reading, with quotes where a shell needs them. */
export function publishLine(
  given: Readonly<{
    host: string
    port: number
    tankId: string
    board: Readonly<{ name: string; password: string }> | null
  }>
): string {
  const login =
    given.board === null
      ? ''
      : ` -u ${given.board.name} -P '${given.board.password.replaceAll("'", "'\\''")}'`
  return `mosquitto_pub -h ${given.host} -p ${given.port}${login} -q 1 -t shoal/${given.tankId}/t1/temperature -m 24.56`
}
