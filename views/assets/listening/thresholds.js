/**
 * Every figure that the judging of a played note rests on.
 *
 * "First try" marks figures that were set on made-up tones alone (two seconds each, with noise 30, 20 and 10 dB below
 * them); they await recordings of real instruments. "Estimate" marks a figure of ours that nobody has tried out.
 */
export const thresholds = Object.freeze({
  /** Clarity of a frame (height of the peak of the McLeod pitch method, 0 to 1) from which it has a pitch. First try. */
  clarity: 0.8,
  /** Level of a frame (root mean square, 1 is full scale) below which nothing is heard; about -50 dB. Estimate. */
  level: 0.003,
  /** Share of a take, from its beginning, that is left out as the attack of the note. First try. */
  attack: 0.2,
  /** Share of frames with a pitch below which no note is said to have spoken. First try. */
  spoken: 0.3,
  /** Share of frames with a pitch below which a note is said to break up. Estimate. */
  whole: 0.7,
  /** Share of the pitched frames that must agree before a take is said to be one note. First try. */
  agreement: 0.7,
  /**
   * Cents to either side within which a frame is this note. First try. So wide because a cold instrument is about 3 cents
   * flat for each degree Celsius (frequency goes with the square root of absolute temperature); never a test of tuning.
   */
  sameNote: 60,
  /** Cents from which a note is another one; between the two nothing is claimed. Estimate. */
  otherNote: 80,
  /** Share of the pitched frames that each of two notes needs before the take is said to jump. Estimate. */
  jump: 0.12,
  /** Cents that the two notes of a jump are apart at least, so that a slow slide is none. Estimate. */
  jumpWidth: 250,
  /**
   * Range of the share of sound that the next register has (0 to 1; 5th to 95th part of a hundred) above which the note
   * warbles between registers. Between made-up warbles (0.7 to 0.9) and the notes of a free sound font, whose players use
   * vibrato (up to 0.3).
   */
  registerRange: 0.4,
  /** Depth of the beating of the level, (p95 - p5) / (p95 + p5), above which it is unsteady at a fast rate. First try. */
  fastDepth: 0.15,
  /** Beats a second from which a beating counts as fast; players' vibrato is slower. First try. */
  fastRate: 7.5,
  /**
   * Depth of the beating of the level above which it is unsteady at any rate. The first try was 0.35; players' vibrato in
   * a free sound font goes to 0.4.
   */
  anyDepth: 0.45,
  /** Cents between the 5th and the 95th part of a hundred of the pitch above which it is unsteady. Estimate. */
  pitchRange: 100,
  /** Frames that a take must have before anything but silence is said of it: 0.6 seconds. Estimate. */
  frames: 75,
});

/** Seconds from one frame to the next; half of its inverse, 62 Hz, is the fastest beating that can be seen. */
export const frameStep = 0.008;
