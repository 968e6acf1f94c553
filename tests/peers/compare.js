// Compares what was received (listen-levels on standard input) with what the senders sent; a line each.
'use strict';
const level = (universe, slot) => (7 * slot + 13 * universe) % 256;
const expected = {
  'sacn 11': (slot) => (slot % 3 === 0 ? 255 : 0),
  'sacn 12': (slot) => level(12, slot),
  'artnet 19': (slot) => level(19, slot),
  'artnet 5': (slot) => level(5, slot),
};
const seen = new Map(require('fs').readFileSync(0, 'utf8').split('\n').filter((line) => line.includes(': '))
  .map((line) => line.split(': ')).map(([name, values]) => [name, values.split(',').map(Number)]));
let failed = 0;
for (const [name, value] of Object.entries(expected)) {
  const slots = seen.get(name) ?? [];
  const wrong = Array.from({ length: 512 }, (_, i) => i + 1).filter((slot) => slots[slot - 1] !== value(slot));
  failed += wrong.length > 0 ? 1 : 0;
  console.log(`${name}: ${slots.length} slots, ${wrong.length === 0 ? 'all as sent' : `FAILED, first wrong slot ${wrong[0]}: ${slots[wrong[0] - 1]} for ${value(wrong[0])}`}`);
}
console.log(`${Object.keys(expected).length - failed} passed, ${failed} failed, 0 skipped`);
process.exit(failed ? 1 : 0);
