// Where a thing stands in a pose: what parts/placed.py: in_pose says of a point, as a matrix.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  // Matrices are sixteen numbers, column after column, as WebGL takes them.
  function times(a, b) {
    const out = new Array(16).fill(0);
    for (let column = 0; column < 4; column += 1) {
      for (let row = 0; row < 4; row += 1) {
        for (let k = 0; k < 4; k += 1) out[4 * column + row] += a[4 * k + row] * b[4 * column + k];
      }
    }
    return out;
  }

  const moved = (x, y, z) => [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, x, y, z, 1];

  const at = (m, p) => [0, 1, 2].map(
    (row) => m[row] * p[0] + m[4 + row] * p[1] + m[8 + row] * p[2] + m[12 + row]);

  // A frame in its parent: where its origin lies, and its three directions.
  function framed(origin, axes) {
    const [x, y, z] = axes;
    return [...x, 0, ...y, 0, ...z, 0, ...origin, 1];
  }

  // carrier: "post", "body" or "head"; tip radius in mm, swing in degrees from the ball's nose.
  function carried(carrier, tipMm, swingDeg) {
    if (carrier === "post") return moved(0, 0, 0);
    const turn = ((90.0 - swingDeg) * Math.PI) / 180;
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const swung = [1, 0, 0, 0, 0, c, s, 0, 0, -s, c, 0, 0, 0, 0, 1];
    return times(swung, moved(0, carrier === "head" ? tipMm : 0, 0));
  }

  // A thing's own frame to the frame of the whole; out: how far taken apart, 0 to 1.
  function placed(thing, tipMm, swingDeg, out) {
    const away = thing.away.map((one) => one * out);
    const there = times(moved(...away), framed(thing.origin, thing.axes));
    return times(carried(thing.carrier, tipMm, swingDeg), there);
  }

  const bytes = (text) => pommel.bytesOf(text).buffer;

  // A packed mesh: points as whole steps from their least corner, triangles and edges by number.
  function unpacked(mesh) {
    return {
      low: mesh.low, step: mesh.step,
      points: new Uint16Array(bytes(mesh.points)),
      triangles: new Uint16Array(bytes(mesh.triangles)),
      edges: new Uint16Array(bytes(mesh.edges)),
    };
  }

  // From a mesh's whole steps to millimetres of its thing's own frame.
  function measured(mesh) {
    const [s, low] = [mesh.step, mesh.low];
    return [s, 0, 0, 0, 0, s, 0, 0, 0, 0, s, 0, ...low, 1];
  }

  Object.assign(pommel, { times, moved, at, framed, carried, placed, unpacked, measured });
})(globalThis.pommel);
