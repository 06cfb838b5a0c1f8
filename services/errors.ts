/** The catalogue of everything this house can refuse or fail at. DEVELOPERS.md lists the same codes; a test compares them. */
export const catalogue = {
  CONFIG_BAD_VALUE: { status: 500, title: 'A setting cannot be used' },
  START_NODE_TOO_OLD: { status: 500, title: 'Node.js is too old' },
  START_SQLITE_MISSING: { status: 500, title: 'The database engine was not compiled' },
  START_PORT_TAKEN: { status: 500, title: 'A port is already in use' },
  START_FOLDER_UNWRITABLE: { status: 500, title: 'The data folder cannot be written' },
  RECORD_LOCKED: { status: 500, title: 'Another watch already uses this data folder' },
  RECORD_TOO_NEW: { status: 500, title: 'The record was written by a newer version' },
  RECORD_FAILED: { status: 503, title: 'The record could not be written' },
  INTAKE_BAD_TOPIC: { status: 422, title: 'The topic is not one we know' },
  INTAKE_BAD_PAYLOAD: { status: 422, title: 'The message could not be read' },
  INTAKE_TOO_LARGE: { status: 413, title: 'The message is too large' },
  INTAKE_BAD_TIME: { status: 422, title: 'The time of the reading cannot be read' },
  INTAKE_BAD_UNIT: { status: 422, title: 'The unit does not fit the quantity' },
  INTAKE_BAD_VALUE: { status: 422, title: 'The value is not a number we accept' },
  INTAKE_UNKNOWN_QUANTITY: { status: 422, title: 'The quantity is not one we keep' },
  INTAKE_BAD_SENML: { status: 422, title: 'The SenML pack breaks its standard' },
  INTAKE_UNKNOWN_TANK: { status: 422, title: 'There is no tank of that name' },
  INTAKE_NOT_ALLOWED: { status: 403, title: 'This board may not publish there' },
  API_BAD_INPUT: { status: 422, title: 'Something in the input cannot be used' },
  API_BAD_JSON: { status: 400, title: 'The body is not valid JSON' },
  API_BAD_REQUEST: { status: 400, title: 'The request could not be read' },
  API_NOT_FOUND: { status: 404, title: 'There is nothing at this address' },
  API_NOT_ALLOWED: { status: 403, title: 'This session may not do that' },
  API_FOREIGN_ORIGIN: { status: 403, title: 'The request came from a foreign page' },
  API_UNKNOWN_HOST: { status: 403, title: 'The request names a host this watch does not know' },
  API_NO_SESSION: { status: 401, title: 'Log in first' },
  API_WRONG_PASSWORD: { status: 401, title: 'The password is not right' },
  API_TOO_MANY_TRIES: { status: 429, title: 'Too many failed tries' },
  API_SETUP_DONE: { status: 409, title: 'The first set-up is already done' },
  API_WRONG_CODE: { status: 403, title: 'The code is not right or no longer valid' },
  API_CONFLICT: { status: 409, title: 'That is already taken' },
  API_TOO_LARGE: { status: 413, title: 'The body is too large' },
  API_WRONG_TYPE: { status: 415, title: 'The body must be JSON' },
  API_WRONG_STATE: { status: 409, title: 'That is not possible in this state' },
  API_UNWELL: { status: 503, title: 'The watch is not fully at work' },
  API_FAILED: { status: 500, title: 'Something broke on our side' },
  WATER_OUT_OF_RANGE: { status: 422, title: 'Outside the range in which the formula holds' },
  FILE_BAD_ROW: { status: 422, title: 'A row of the file cannot be used' },
  FILE_BAD_HEADER: { status: 422, title: 'The first line of the file is not the expected header' },
  FILE_UNREADABLE: { status: 422, title: 'The file cannot be read' }
} as const

export type ErrorCode = keyof typeof catalogue

/** The one error class: a code of the catalogue, what happened, and what to do about it. */
export class HouseError extends Error {
  readonly code: ErrorCode
  readonly detail: string
  readonly extra: Readonly<Record<string, unknown>>
  constructor(
    code: ErrorCode,
    detail: string,
    extra: Readonly<Record<string, unknown>> = {},
    cause?: unknown
  ) {
    super(`${code}: ${detail}`, cause === undefined ? undefined : { cause })
    this.name = 'HouseError'
    this.code = code
    this.detail = detail
    this.extra = extra
  }
}
