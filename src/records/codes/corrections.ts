/** Problem codes: recorded correction streams and the link of a day. */
export const correctionCodes = {
  'stream-no-frames': {
    exit: 3,
    meaning: 'a file holds no frame of RTCM 3 whose check is right',
    fix: 'name the recording of the correction stream as it was received, without conversion',
  },
  'stream-date': {
    exit: 2,
    meaning: 'the first epoch of the stream is not on the day of the week of the date that was given',
    fix: 'give --date with the date, in UTC, on which the recording begins',
  },
  'stream-date-disagrees': {
    exit: 1,
    meaning: 'the date and time that the stream says of itself are not those of its epochs',
    fix: 'check --date, and the clock of the base',
  },
  'stream-repeated': {
    exit: 1,
    meaning:
      'frames repeat the one before them byte for byte: a stream was recorded or sent twice, and satellites and bytes count twice',
    fix: 'record it once, or look at what passes it on; the bytes that a client pays for may be half of those counted',
  },
  'stream-damaged': {
    exit: 1,
    meaning: 'frames arrived damaged: their check is wrong',
    fix: 'look at the radio or the line that the recording was made behind',
  },
  'stream-cut': {
    exit: 1,
    meaning: 'the recording ends within a frame',
    fix: 'nothing, where it was stopped by hand; else find out what ended it',
  },
  'stream-short-message': {
    exit: 1,
    meaning: 'the content of a frame is shorter than its own numbers say, and was left out',
    fix: 'bring the software of the base up to date',
  },
  'stream-no-position': {
    exit: 1,
    meaning: 'a station sends observations and no coordinate (1005 or 1006), or one that is no place on the ground',
    fix: 'switch the message on: a rover cannot know where the base is without it',
  },
  'stream-position-changed': {
    exit: 1,
    meaning: 'a station changed its coordinate while the stream was recorded',
    fix: 'give each coordinate a base of its own in the session, with from_utc and to_utc',
  },
  'stream-antenna-height-changed': {
    exit: 1,
    meaning: 'a station changed the height of its antenna above the mark while the stream was recorded',
    fix: 'find out which height is right, and whether the set-up was moved; give each its base in the session',
  },
  'stream-names-changed': {
    exit: 1,
    meaning: 'the names of antenna or receiver changed while the stream was recorded',
    fix: 'find out whether the equipment was changed; another antenna has another phase centre',
  },
  'stream-position-rounded': {
    exit: 1,
    meaning: 'a station sends a coordinate that is rounded: it was typed in, and is rougher than it looks',
    fix: 'compare it with the coordinate of the mark, and give that as known in the session',
  },
  'stream-station-computed': {
    exit: 1,
    meaning: 'the station is computed by a network, and no antenna stands where it says',
    fix: 'baselines are not those to a real base; give the coordinate that the network states',
  },
  'stream-null-antenna': {
    exit: 1,
    meaning: 'the observations are already reduced to an antenna without phase centre variations',
    fix: 'apply no antenna calibration to the base: doing it twice costs centimetres in height',
  },
  'stream-interval': {
    exit: 1,
    meaning: 'a message came at another interval than the stream announces',
    fix: 'check the settings of the base and the load of the line',
  },
  'stream-gap': {
    exit: 1,
    meaning: 'epochs are missing in the stream',
    fix: 'rovers were without fresh corrections then; look at --fixes for what it cost',
  },
  'stream-epochs-incomplete': {
    exit: 1,
    meaning: 'epochs came without the message that ends them: constellations were lost on the way',
    fix: 'look at the line, and at what the base is asked to send in each epoch',
  },
  'stream-no-biases': {
    exit: 1,
    meaning: 'GLONASS is sent without its code-phase biases (1230)',
    fix: 'switch the message on, or rovers of another make may not fix GLONASS',
  },
  'stream-times-disagree': {
    exit: 1,
    meaning: 'the times of two constellations of one epoch are not the same instant',
    fix: 'bring the software of the base up to date; such epochs may be refused by rovers',
  },
  'stream-time-back': {
    exit: 1,
    meaning: 'time steps back in the stream: recordings were put together, or two streams of one station run in one',
    fix: 'name each recording by itself, in the order of time',
  },
  'link-no-ages': {
    exit: 3,
    meaning: 'no fix says how old its corrections were',
    fix: 'have the receiver log the age (correction_age_s, or field 13 of GGA), and map its column',
  },
  'link-outage': {
    exit: 1,
    meaning: 'for some seconds a rover had no fix, or corrections that were too old',
    fix: 'look at the map and the side that each is put down to: move the base or its antenna, or change the line',
  },
  'link-age-cost': {
    exit: 1,
    meaning: 'epochs or points were lost to the limit on the age of corrections',
    fix: 'occupy the points named again, with a better link',
  },
  'broadcast-differs': {
    exit: 1,
    meaning: 'the coordinate that the session says a base broadcast is not the one that it sent',
    fix: 'put the line that is printed into the session, and reduce again; look up why they differ',
  },
  'broadcast-antenna-height': {
    exit: 1,
    meaning: 'the antenna height that a base sent is not that of the session',
    fix: 'measure it again or look it up; the coordinate that counts is at the antenna reference point',
  },
  'broadcast-not-sent': {
    exit: 1,
    meaning: 'no stream that was named holds a coordinate for a base of the session in its time',
    fix: 'name the recording of that base, or give --date where the base has times',
  },
} as const;
