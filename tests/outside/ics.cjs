// Reads iCalendar files with ical.js; prints one JSON object, by file: start and end of every event.
const fs = require('fs');
const path = require('path');
const { createRequire } = require('module');
const ICAL = createRequire(path.join(process.env.OUTSIDE_NODE, 'index.js'))('ical.js');
const reader = ICAL.default || ICAL;

const found = {};
for (const file of process.argv.slice(2)) {
  const calendar = new reader.Component(reader.parse(fs.readFileSync(file, 'utf8')));
  found[file] = calendar.getAllSubcomponents('vevent').map((event) => {
    const read = new reader.Event(event);
    return [read.startDate.toString(), read.endDate.toString()];
  });
}
console.log(JSON.stringify(found));
