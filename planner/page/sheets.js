// Drawings and pictures, one at a time, to move and enlarge under finger, wheel or key.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const { t, h } = pommel;

  // Puts a drawing into a frame that enlarges it. Our own SVG, written by the program into this page.
  function zoomed(frame, markup) {
    frame.innerHTML = markup;
    const svg = frame.querySelector("svg");
    svg.setAttribute("role", "img");
    const [, , width, height] = svg.getAttribute("viewBox").split(/[ ,]+/).map(Number);
    svg.removeAttribute("width");
    svg.removeAttribute("height");
    frame.style.aspectRatio = `${width} / ${height}`;
    const first = svg.getAttribute("viewBox").split(/[ ,]+/).map(Number);
    let box = [...first];
    const show = () => svg.setAttribute("viewBox", box.join(" "));
    const scale = () => box[2] / frame.clientWidth;
    function zoom(factor, clientX, clientY) {
      const room = frame.getBoundingClientRect();
      const [u, v] = [(clientX - room.left) / room.width, (clientY - room.top) / room.height];
      const wide = Math.min(first[2], Math.max(first[2] / 24, box[2] / factor));
      const change = wide / box[2];
      box = [box[0] + u * box[2] * (1 - change), box[1] + v * box[3] * (1 - change),
        wide, box[3] * change];
      keep();
    }
    function keep() {
      for (const i of [0, 1]) {
        box[i] = Math.max(first[i], Math.min(first[i] + first[i + 2] - box[i + 2], box[i]));
      }
      frame.classList.toggle("enlarged", box[2] < first[2] * 0.99);
      show();
    }
    const middle = () => {
      const room = frame.getBoundingClientRect();
      return [room.left + room.width / 2, room.top + room.height / 2];
    };
    const pointers = new Map();
    frame.onpointerdown = (event) => pointers.set(event.pointerId, [event.clientX, event.clientY]);
    frame.onpointerup = frame.onpointercancel = (event) => pointers.delete(event.pointerId);
    frame.onpointermove = (event) => {
      const before = pointers.get(event.pointerId);
      if (!before) return;
      const apart = () => {
        const [a, b] = [...pointers.values()];
        return [Math.hypot(a[0] - b[0], a[1] - b[1]), (a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      };
      const two = pointers.size === 2 ? apart() : null;
      pointers.set(event.pointerId, [event.clientX, event.clientY]);
      const part = pointers.size || 1;
      box[0] -= ((event.clientX - before[0]) * scale()) / part;
      box[1] -= ((event.clientY - before[1]) * scale()) / part;
      keep();
      if (two && two[0]) {
        const now = apart();
        zoom(now[0] / two[0], now[1], now[2]);
      }
    };
    frame.onwheel = (event) => {
      event.preventDefault();
      zoom(Math.exp(-event.deltaY * 0.0015), event.clientX, event.clientY);
    };
    frame.onkeydown = (event) => {
      const by = box[2] / 10;
      const way = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] };
      if (event.key === "+" || event.key === "=") zoom(1.3, ...middle());
      else if (event.key === "-") zoom(1 / 1.3, ...middle());
      else if (way[event.key]) {
        box[0] += way[event.key][0];
        box[1] += way[event.key][1];
        keep();
      } else return;
      event.preventDefault();
    };
    return { zoom: (factor) => zoom(factor, ...middle()) };
  }

  function browser(list, label) {
    if (!list.length) return h("p", {}, t("no_sheets"));
    const frame = h("div", { class: "paper", tabindex: "0", role: "group", "aria-label": label });
    let held = null;
    let at = 0;
    const which = h("select", { "aria-label": label, onchange: () => go(Number(which.value)) },
      list.map((one, n) => h("option", { value: n }, one.title)));
    function go(number) {
      at = (number + list.length) % list.length;
      which.value = at;
      held = zoomed(frame, list[at].svg);
    }
    go(0);
    return h("div", { class: "browser" }, which, frame,
      h("div", { class: "four" },
        h("button", { type: "button", onclick: () => go(at - 1) }, t("before")),
        h("button", { type: "button", onclick: () => held.zoom(1.5) }, t("larger")),
        h("button", { type: "button", onclick: () => held.zoom(1 / 1.5) }, t("smaller")),
        h("button", { type: "button", onclick: () => go(at + 1) }, t("next"))));
  }

  pommel.screens = pommel.screens || {};
  pommel.screens.draw = () => {
    const sheets = pommel.read("sheets");
    return h("div", {}, browser(sheets ? sheets.sheets : [], t("drawing")),
      h("h3", {}, t("pictures")), browser(pommel.read("pictures") || [], t("picture")),
      h("p", { class: "note" }, t("draw_help")));
  };
})(globalThis.pommel);
