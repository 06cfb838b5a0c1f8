/** Where the water of this tank usually settles without its heater, and how the room stands to that. */
export type UsualRest = Readonly<{
  /** Learns from a minute in which the belief is worth it. */
  learn: (minute: Readonly<{ restC: number; roomC: number | null; isQuiet: boolean }>) => void
  restC: () => number
  /** Whether enough was seen of this room; before that it is only what rooms are like. */
  isLearned: () => boolean
  /** What a probe in the room says the water would settle at; null without one or before it is learned. */
  byRoomC: (roomC: number | null) => number | null
}>

/** Minutes in which a belief is followed: the day's rhythm while it is near, slowly where it is far. */
const nearMin = 300
const farMin = 2880
const nearK = 3
/** Water that cools more slowly than usual may also get a little heat: then the room is not to be learned from. */
const warmerK = 1.5
/** In its first days anything may still be true. */
const firstDaysMin = 4320
const firstNearK = 5
const learnedAfterMin = 900
const roomMin = 720
const roomKnownAfterMin = 720

export function makeUsualRest(firstC: number): UsualRest {
  let restC = firstC
  let learnedMin = 0
  let aboveRoomK = 1
  let roomLearnedMin = 0
  return {
    learn(minute) {
      learnedMin += 1
      const gapK = minute.restC - restC
      const near = learnedMin < firstDaysMin ? Math.abs(gapK) < firstNearK : gapK > -nearK && gapK < warmerK
      restC += gapK / (near && minute.isQuiet ? nearMin : farMin)
      if (minute.roomC === null || !minute.isQuiet) return
      roomLearnedMin += 1
      aboveRoomK += (minute.restC - minute.roomC - aboveRoomK) / Math.min(roomMin, 60 + roomLearnedMin)
    },
    restC: () => restC,
    isLearned: () => learnedMin > learnedAfterMin,
    byRoomC: (roomC) => (roomC === null || roomLearnedMin < roomKnownAfterMin ? null : roomC + aboveRoomK)
  }
}
