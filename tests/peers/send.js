// Sends known levels with one independent sender: node send.js NAME LISTENER. Slot n of universe u is (7 n + 13 u) mod 256.
'use strict';
const [name, listener] = process.argv.slice(2);
const level = (universe, slot) => (7 * slot + 13 * universe) % 256;
const levels = (universe, count) => Array.from({ length: count }, (_, i) => level(universe, i + 1));
const every = (ms, count, send) => {
  const timer = setInterval(() => { if (count-- > 0) { send(); } else { clearInterval(timer); process.exit(0); } }, ms);
};

const senders = {
  sacn() {
    const { Sender } = require('sacn');
    const sender = new Sender({ universe: 11, iface: '10.9.0.2', reuseAddr: true });
    // This sender takes percent; 0 and 100 are the values that need no rounding.
    const payload = {};
    for (let slot = 1; slot <= 512; slot++) { payload[slot] = slot % 3 === 0 ? 100 : 0; }
    setTimeout(() => every(25, 80, () => sender.send({ payload, sourceName: 'peer sacn', priority: 100 })), 200);
  },
  e131() {
    const e131 = require('e131');
    const client = new e131.Client(12);
    const packet = client.createPacket(512);
    packet.setUniverse(12);
    packet.setSourceName('peer e131');
    levels(12, 512).forEach((value, i) => { packet.getSlotsData()[i] = value; });
    every(25, 80, () => client.send(packet));
  },
  dmxnet() {
    const { dmxnet } = require('dmxnet');
    const node = new dmxnet({ log: { level: 'error' } });
    const sender = node.newSender({ ip: listener, subnet: 1, universe: 3, net: 0 });
    levels(19, 512).forEach((value, i) => sender.prepChannel(i, value));
    every(25, 80, () => sender.transmit());
  },
  artnet() {
    const artnet = require('artnet')({ host: listener, sendAll: true });
    every(25, 80, () => artnet.set(5, 1, levels(5, 512)));
  },
};
senders[name]();
