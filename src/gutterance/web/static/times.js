// Times of day as the reader's own clock tells them. Without script they stand in UTC.

const sameDay = new Intl.DateTimeFormat(undefined, { timeStyle: "short" });
const otherDay = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });

/** Write every time on the page in the reader's own time. */
export function ownTimes(place = document) {
  for (const element of place.querySelectorAll("time[datetime]")) {
    const at = new Date(element.dateTime);
    if (Number.isNaN(at.getTime())) continue;
    const today = at.toDateString() === new Date().toDateString();
    element.textContent = (today ? sameDay : otherDay).format(at);
    element.title = otherDay.format(at);
  }
}

ownTimes();
