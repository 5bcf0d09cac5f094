// The attachment to turn, pull apart and swing: WebGL 2, parallel projection, flat shading with edges.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const { times, moved, at, placed, unpacked, measured } = pommel;
  const FILLED = 0.94; // of the frame

  const POINT = `#version 300 es
in vec3 point; uniform mat4 model; uniform mat4 view; out vec3 seen;
void main() { vec4 p = view * model * vec4(point, 1.0); seen = p.xyz; gl_Position = p; }`;
  const FILL = `#version 300 es
precision highp float; in vec3 seen; uniform vec3 colour; uniform float lit; uniform vec2 scale;
out vec4 dot_;
void main() {
  if (lit < 0.5) { dot_ = vec4(colour, 1.0); return; }
  vec3 p = vec3(seen.xy / scale, seen.z * -1000.0);
  vec3 n = normalize(cross(dFdx(p), dFdy(p)));
  if (n.z < 0.0) n = -n;
  float light = 0.55 + 0.45 * clamp(dot(n, vec3(-0.36, 0.64, 0.68)), -0.5, 1.0);
  dot_ = vec4(colour * light, 1.0);
}`;

  function program(gl) {
    const made = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, POINT], [gl.FRAGMENT_SHADER, FILL]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(made, shader);
    }
    gl.bindAttribLocation(made, 0, "point");
    gl.linkProgram(made);
    if (!gl.getProgramParameter(made, gl.LINK_STATUS)) return null;
    return made;
  }

  function buffered(gl, mesh) {
    const array = (data, elements) => {
      const found = gl.createVertexArray();
      gl.bindVertexArray(found);
      gl.bindBuffer(gl.ARRAY_BUFFER, points);
      gl.enableVertexAttribArray(0);
      gl.vertexAttribPointer(0, 3, gl.UNSIGNED_SHORT, false, 0, 0);
      const buffer = gl.createBuffer();
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, buffer);
      gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, data, gl.STATIC_DRAW);
      return { found, count: elements };
    };
    const points = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, points);
    gl.bufferData(gl.ARRAY_BUFFER, mesh.points, gl.STATIC_DRAW);
    return {
      fill: array(mesh.triangles, mesh.triangles.length),
      lines: array(mesh.edges, mesh.edges.length),
      local: measured(mesh),
    };
  }

  class Viewer {
    // canvas: to draw on; scene: of planner/page/pack.py. Throws where the browser has no WebGL 2.
    constructor(canvas, scene) {
      const gl = canvas.getContext("webgl2", { antialias: true, preserveDrawingBuffer: true });
      this.program = gl && program(gl);
      if (!this.program) throw new Error("no WebGL 2");
      this.gl = gl;
      this.canvas = canvas;
      this.scene = scene;
      this.meshes = scene.meshes.map((one) => buffered(gl, unpacked(one)));
      this.hidden = new Set();
      this.pose = { tip: 0, swing: 90, out: 0 };
      this.more = [];
      this.dark = false;
      this.onPick = () => {};
      this.yaw = this.pitch = 0;
      this.look(0.82, 0.45);
      for (const name of ["model", "view", "colour", "lit", "scale"]) {
        this[`_${name}`] = gl.getUniformLocation(this.program, name);
      }
      this.pointers = new Map();
      this.listen();
    }

    get things() {
      return [...this.scene.things, ...this.more];
    }

    look(yaw, pitch) {
      this.yaw = yaw;
      this.pitch = pitch;
      this.fit();
    }

    // Back to where all that is to be seen fills the frame, as it is turned now.
    fit() {
      this.zoom = 1;
      this.pan = [0, 0];
      this.framed = null;
      this.paint();
    }

    // Taken apart, what is to be seen grows: the frame goes with it. Nothing jumps at a swing.
    set(pose) {
      Object.assign(this.pose, pose);
      if (pose.out !== undefined) this.framed = null;
      this.paint();
    }

    // Draws before the next picture of the screen, once however often it is asked.
    paint() {
      if (this.waiting) return;
      this.waiting = true;
      requestAnimationFrame(() => {
        this.waiting = false;
        this.draw();
      });
    }

    turned() {
      const [cy, sy] = [Math.cos(this.yaw), Math.sin(this.yaw)];
      const [cp, sp] = [Math.cos(this.pitch), Math.sin(this.pitch)];
      const about = [cy, 0, -sy, 0, 0, 1, 0, 0, sy, 0, cy, 0, 0, 0, 0, 1];
      const down = [1, 0, 0, 0, 0, cp, sp, 0, 0, -sp, cp, 0, 0, 0, 0, 1];
      return times(down, about);
    }

    // The least box about things in the frame of the eye, in every given swing: x, y and depth.
    bounds(things, swings) {
      const [low, high] = [[1e9, 1e9, 1e9], [-1e9, -1e9, -1e9]];
      const turned = this.turned();
      for (const thing of things) {
        const mesh = this.scene.meshes[thing.mesh];
        for (const swing of swings) {
          const matrix = times(turned, placed(thing, this.pose.tip, swing, this.pose.out));
          for (let corner = 0; corner < 8; corner += 1) {
            const p = at(matrix, [0, 1, 2].map((i) => (corner >> i & 1 ? mesh.high[i] : mesh.low[i])));
            p.forEach((value, i) => {
              low[i] = Math.min(low[i], value);
              high[i] = Math.max(high[i], value);
            });
          }
        }
      }
      return [low, high];
    }

    // What fills the frame, whatever is hidden: the attachment through its swing, and the lathe round it;
    // taken apart, all of it. middle: in the frame of the whole; half: its half width and height.
    room() {
      if (this.framed) return this.framed;
      const { swing, out } = this.pose;
      const [own, all] = [this.bounds(this.scene.things, out ? [swing] : [0, 90, 150]),
        this.bounds(this.things, [swing])];
      const [low, high] = [[Math.min, 0], [Math.max, 1]].map(
        ([more, k]) => own[k].map((value, i) => more(value, all[k][i])));
      const [middle, half] = [1, -1].map((sign) => high.map((value, i) => (value + sign * low[i]) / 2));
      const back = this.turned(); // a turn alone: what undoes it is its rows for columns
      const depth = Math.hypot(...high.map((value, i) => value - low[i]));
      this.framed = { middle: [0, 1, 2].map((i) => [0, 1, 2].reduce(
        (sum, row) => sum + back[4 * i + row] * middle[row], 0)), half, depth };
      return this.framed;
    }

    views() {
      const { middle, half, depth } = this.room();
      const [w, h] = [this.canvas.width, this.canvas.height];
      const dots = (FILLED * this.zoom * Math.min(w / half[0], h / half[1])) / 2; // of one mm
      const [sx, sy] = [(2 * dots) / w, (2 * dots) / h];
      const flat = [sx, 0, 0, 0, 0, sy, 0, 0, 0, 0, -1 / depth, 0, ...this.pan, 0, 1];
      const view = times(flat, times(this.turned(), moved(...middle.map((v) => -v))));
      return { view, scale: [sx, sy], depth };
    }

    draw(picking = false) {
      const { gl, canvas } = this;
      const ratio = Math.min(2, globalThis.devicePixelRatio || 1);
      const [w, h] = [canvas.clientWidth * ratio, canvas.clientHeight * ratio].map(Math.round);
      if (!w || !h) return;
      if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h];
      const { view, scale, depth } = this.views();
      gl.viewport(0, 0, w, h);
      const ground = this.dark ? 0.13 : 1;
      gl.clearColor(...(picking ? [0, 0, 0, 1] : [ground, ground, ground, 1]));
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      gl.enable(gl.DEPTH_TEST);
      gl.useProgram(this.program);
      gl.uniformMatrix4fv(this._view, false, view);
      gl.uniform2f(this._scale, (scale[0] * depth) / 100, (scale[1] * depth) / 100);
      this.things.forEach((thing, number) => {
        if (this.hidden.has(thing.name)) return;
        const mesh = this.meshes[thing.mesh];
        const { tip, swing, out } = this.pose;
        gl.uniformMatrix4fv(this._model, false, times(placed(thing, tip, swing, out), mesh.local));
        if (thing.solid) {
          gl.enable(gl.POLYGON_OFFSET_FILL);
          gl.polygonOffset(1, 1);
          gl.uniform1f(this._lit, picking ? 0 : 1);
          const tint = thing.colour.map((one) => 0.25 + 0.75 * one);
          gl.uniform3f(this._colour, ...(picking ? [(number + 1) / 255, 0.5, 0] : tint));
          gl.bindVertexArray(mesh.fill.found);
          gl.drawElements(gl.TRIANGLES, mesh.fill.count, gl.UNSIGNED_SHORT, 0);
          gl.disable(gl.POLYGON_OFFSET_FILL);
        }
        if (picking || !mesh.lines.count) return;
        gl.uniform1f(this._lit, 0);
        const ink = this.dark && !thing.solid ? 0.8 : 0.05;
        gl.uniform3f(this._colour, ink, ink, ink);
        gl.bindVertexArray(mesh.lines.found);
        gl.drawElements(gl.LINES, mesh.lines.count, gl.UNSIGNED_SHORT, 0);
      });
      gl.bindVertexArray(null);
    }

    // The thing under a place of the screen, or null.
    pick(clientX, clientY) {
      const { gl, canvas } = this;
      const box = canvas.getBoundingClientRect();
      const target = gl.createFramebuffer(); // of its own, where no dot is a mixture of two
      gl.bindFramebuffer(gl.FRAMEBUFFER, target);
      const layers = [[gl.RGBA8, gl.COLOR_ATTACHMENT0], [gl.DEPTH_COMPONENT16, gl.DEPTH_ATTACHMENT]];
      const buffers = layers.map(([kind, place]) => {
        const layer = gl.createRenderbuffer();
        gl.bindRenderbuffer(gl.RENDERBUFFER, layer);
        gl.renderbufferStorage(gl.RENDERBUFFER, kind, canvas.width, canvas.height);
        gl.framebufferRenderbuffer(gl.FRAMEBUFFER, place, gl.RENDERBUFFER, layer);
        return layer;
      });
      this.draw(true);
      const dot = new Uint8Array(4);
      const x = ((clientX - box.left) / box.width) * canvas.width;
      const y = (1 - (clientY - box.top) / box.height) * canvas.height;
      gl.readPixels(Math.floor(x), Math.floor(y), 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, dot);
      gl.bindFramebuffer(gl.FRAMEBUFFER, null);
      buffers.forEach((layer) => gl.deleteRenderbuffer(layer));
      gl.deleteFramebuffer(target);
      return dot[0] ? this.things[dot[0] - 1] || null : null;
    }

    listen() {
      const { canvas, pointers } = this;
      let travelled = 0;
      const spread = () => {
        const [a, b] = [...pointers.values()];
        return Math.hypot(a[0] - b[0], a[1] - b[1]);
      };
      canvas.addEventListener("pointerdown", (event) => {
        canvas.setPointerCapture(event.pointerId);
        pointers.set(event.pointerId, [event.clientX, event.clientY]);
        travelled = 0;
      });
      canvas.addEventListener("pointermove", (event) => {
        const before = pointers.get(event.pointerId);
        if (!before) return;
        const [dx, dy] = [event.clientX - before[0], event.clientY - before[1]];
        travelled += Math.abs(dx) + Math.abs(dy);
        const wide = pointers.size === 2 ? spread() : 0;
        pointers.set(event.pointerId, [event.clientX, event.clientY]);
        if (pointers.size === 2) {
          this.zoomBy(spread() / (wide || 1));
          this.panBy(dx / 2, dy / 2);
        } else if (event.shiftKey || event.buttons === 4) this.panBy(dx, dy);
        else this.turnBy(dx * 0.009, dy * 0.009);
      });
      const ends = (event) => {
        if (pointers.delete(event.pointerId) && event.type === "pointerup" && travelled < 6) {
          this.onPick(this.pick(event.clientX, event.clientY));
        }
      };
      canvas.addEventListener("pointerup", ends);
      canvas.addEventListener("pointercancel", ends);
      canvas.addEventListener("wheel", (event) => {
        event.preventDefault();
        this.zoomBy(Math.exp(-event.deltaY * 0.0012));
      }, { passive: false });
      canvas.addEventListener("keydown", (event) => {
        const turn = { ArrowLeft: [-0.12, 0], ArrowRight: [0.12, 0], ArrowUp: [0, -0.12],
          ArrowDown: [0, 0.12] }[event.key];
        if (turn) this.turnBy(...turn);
        else if (event.key === "+" || event.key === "=") this.zoomBy(1.15);
        else if (event.key === "-") this.zoomBy(1 / 1.15);
        else return;
        event.preventDefault();
      });
    }

    turnBy(yaw, pitch) {
      this.yaw += yaw;
      this.pitch = Math.max(-1.55, Math.min(1.55, this.pitch + pitch));
      this.paint();
    }

    // About the middle of the frame, wherever the picture was moved.
    zoomBy(factor) {
      const zoom = Math.max(0.4, Math.min(12, this.zoom * factor));
      this.pan = this.pan.map((one) => (one * zoom) / this.zoom);
      this.zoom = zoom;
      this.paint();
    }

    panBy(dx, dy) {
      this.pan[0] += (2 * dx) / this.canvas.clientWidth;
      this.pan[1] -= (2 * dy) / this.canvas.clientHeight;
      this.paint();
    }
  }

  Object.assign(pommel, { Viewer });
})(globalThis.pommel);
