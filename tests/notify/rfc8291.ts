import { createDecipheriv, createECDH, createHmac, type ECDH } from 'node:crypto'

const hmac = (key: Buffer, ...parts: readonly (Buffer | string)[]): Buffer => {
  const mac = createHmac('sha256', key)
  for (const part of parts) mac.update(part)
  return mac.digest()
}
const one = Buffer.from([1])

/** The receiving side of RFC 8291, written from its text (sections 3 and 4, with RFC 8188 for the record). */
export function decryptPush(body: Buffer, receiver: ECDH, auth: Buffer): string {
  const salt = body.subarray(0, 16)
  const idLength = body[20] ?? 0
  const senderPublic = body.subarray(21, 21 + idLength)
  const sealed = body.subarray(21 + idLength)
  const shared = receiver.computeSecret(senderPublic)
  const keyOfAuth = hmac(auth, shared)
  const ikm = hmac(keyOfAuth, 'WebPush: info\0', receiver.getPublicKey(), senderPublic, one)
  const prk = hmac(salt, ikm)
  const key = hmac(prk, 'Content-Encoding: aes128gcm\0', one).subarray(0, 16)
  const nonce = hmac(prk, 'Content-Encoding: nonce\0', one).subarray(0, 12)
  const cipher = createDecipheriv('aes-128-gcm', key, nonce)
  cipher.setAuthTag(sealed.subarray(-16))
  const padded = Buffer.concat([cipher.update(sealed.subarray(0, -16)), cipher.final()])
  // The last record ends with a 2 and then nothing but zeros.
  const end = padded.lastIndexOf(2)
  return padded.subarray(0, end).toString()
}

export const receiverFrom = (privateKey: string): ECDH => {
  const ecdh = createECDH('prime256v1')
  ecdh.setPrivateKey(Buffer.from(privateKey, 'base64url'))
  return ecdh
}

/** Appendix A of RFC 8291. */
export const appendixA = {
  plaintext: 'When I grow up, I want to be a watermelon',
  receiverPrivate: 'q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94',
  auth: 'BTBZMqHH6r4Tts7J_aSIgg',
  senderPrivate: 'yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw',
  salt: 'DGv6ra1nlYgDCS1FRnbzlw',
  body: 'DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN'
}
