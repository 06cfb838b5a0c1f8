import { createServer, type IncomingHttpHeaders, type ServerResponse } from 'node:http'

export type HeardRequest = Readonly<{
  method: string
  path: string
  headers: IncomingHttpHeaders
  body: Buffer
}>
export type HttpPeer = Readonly<{
  url: string
  heard: HeardRequest[]
  /** How it answers from now on. */
  answer: (how: (response: ServerResponse, request: HeardRequest) => void) => void
  close: () => Promise<void>
}>

export const withStatus =
  (status: number, headers: Readonly<Record<string, string>> = {}) =>
  (response: ServerResponse): void => {
    response.writeHead(status, headers).end('what a server says')
  }
/** Takes the request and says nothing, for ever. */
export const never = (): void => undefined

/** A real HTTP server on this machine that writes down what it is sent. */
export async function openHttpPeer(): Promise<HttpPeer> {
  const heard: HeardRequest[] = []
  let answering: (response: ServerResponse, request: HeardRequest) => void = withStatus(200)
  const server = createServer((request, response) => {
    const chunks: Buffer[] = []
    request.on('data', (chunk: Buffer) => chunks.push(chunk))
    request.on('end', () => {
      const { method = '', url = '', headers } = request
      const one = { method, path: url, headers, body: Buffer.concat(chunks) }
      heard.push(one)
      answering(response, one)
    })
  })
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  const address = server.address()
  const port = typeof address === 'object' && address !== null ? address.port : 0
  return {
    url: `http://127.0.0.1:${port}`,
    heard,
    answer: (how) => {
      answering = how
    },
    close: () =>
      new Promise((done) => {
        server.closeAllConnections()
        server.close(() => done())
      })
  }
}
