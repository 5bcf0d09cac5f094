// Unpacks what the page carries packed: raw DEFLATE (RFC 1951) in base64, as Python's zlib writes it.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];

  // Base and extra bits of the lengths 257 to 285, and of the distances 0 to 29 (RFC 1951, 3.2.5).
  function ladder(first, steps, last) {
    const found = [];
    let base = first;
    for (const [count, bits] of steps) {
      for (let k = 0; k < count; k += 1) {
        found.push([base, bits]);
        base += 1 << bits;
      }
    }
    return last ? [...found, last] : found;
  }
  const LENGTHS = ladder(3, [[8, 0], [4, 1], [4, 2], [4, 3], [4, 4], [4, 5]], null);
  LENGTHS[28] = [258, 0];
  const DISTANCES = ladder(1, [[4, 0], ...Array.from({ length: 13 }, (_, k) => [2, k + 1])], null);

  // The code of a list of lengths: how many codes of each length there are, and the symbols in order.
  function coded(lengths) {
    const counts = new Uint16Array(16);
    for (const length of lengths) counts[length] += 1;
    counts[0] = 0;
    const starts = new Uint16Array(16);
    for (let k = 1; k < 16; k += 1) starts[k] = starts[k - 1] + counts[k - 1];
    const symbols = new Uint16Array(lengths.length);
    lengths.forEach((length, symbol) => {
      if (length) symbols[starts[length]++] = symbol;
    });
    return { counts, symbols };
  }

  function bytesOf(text) {
    const found = atob(text);
    const out = new Uint8Array(found.length);
    for (let i = 0; i < found.length; i += 1) out[i] = found.charCodeAt(i);
    return out;
  }

  // The bytes of a raw DEFLATE stream. Throws where it is none, or ends too soon.
  function inflate(data) {
    let [out, end, at, held, left] = [new Uint8Array(data.length * 6 + 64), 0, 0, 0, 0];
    function bits(count) {
      while (left < count) {
        if (at >= data.length) throw new Error("packed data end too soon");
        held |= data[at++] << left;
        left += 8;
      }
      const value = held & ((1 << count) - 1);
      held >>>= count;
      left -= count;
      return value;
    }
    function symbol(code) {
      let [word, first, index] = [0, 0, 0];
      for (let length = 1; length < 16; length += 1) {
        word |= bits(1);
        const count = code.counts[length];
        if (word - first < count) return code.symbols[index + word - first];
        index += count;
        first = (first + count) << 1;
        word <<= 1;
      }
      throw new Error("packed data have no such code");
    }
    function room(more) {
      if (end + more <= out.length) return;
      const larger = new Uint8Array(2 * out.length + more);
      larger.set(out);
      out = larger;
    }
    function codes() {
      const [literals, distances, given] = [bits(5) + 257, bits(5) + 1, bits(4) + 4];
      const first = new Array(19).fill(0);
      for (let k = 0; k < given; k += 1) first[ORDER[k]] = bits(3);
      const own = coded(first);
      const lengths = [];
      while (lengths.length < literals + distances) {
        const one = symbol(own);
        if (one < 16) lengths.push(one);
        else {
          const value = one === 16 ? lengths[lengths.length - 1] : 0;
          const again = one === 16 ? 3 + bits(2) : one === 17 ? 3 + bits(3) : 11 + bits(7);
          for (let k = 0; k < again; k += 1) lengths.push(value);
        }
      }
      return [coded(lengths.slice(0, literals)), coded(lengths.slice(literals))];
    }
    function block(literals, distances) {
      for (;;) {
        const one = symbol(literals);
        if (one === 256) return;
        if (one < 256) {
          room(1);
          out[end++] = one;
          continue;
        }
        const [base, extra] = LENGTHS[one - 257];
        const length = base + bits(extra);
        const [far, more] = DISTANCES[symbol(distances)];
        const back = far + bits(more);
        room(length);
        for (let k = 0; k < length; k += 1, end += 1) out[end] = out[end - back];
      }
    }
    const fixed = [coded([...new Array(144).fill(8), ...new Array(112).fill(9),
      ...new Array(24).fill(7), ...new Array(8).fill(8)]), coded(new Array(30).fill(5))];
    for (let last = 0; !last;) {
      last = bits(1);
      const kind = bits(2);
      if (kind === 0) {
        [held, left] = [0, 0];
        const length = data[at] | (data[at + 1] << 8);
        room(length);
        out.set(data.subarray(at + 4, at + 4 + length), end);
        [at, end] = [at + 4 + length, end + length];
      } else if (kind === 1) block(...fixed);
      else if (kind === 2) block(...codes());
      else throw new Error("packed data have no such block");
    }
    return out.subarray(0, end);
  }

  // A packed text, as it was.
  const unpack = (text) => new TextDecoder().decode(inflate(bytesOf(text)));

  Object.assign(pommel, { bytesOf, inflate, unpack });
})(globalThis.pommel);
