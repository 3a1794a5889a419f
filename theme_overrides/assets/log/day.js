/** The local date of a moment (ms), as midnight UTC of that date, so that days are 24 hours apart. */
export function localDay(moment) {
  const date = new Date(moment);
  return Date.UTC(date.getFullYear(), date.getMonth(), date.getDate());
}
