// Drawings and pictures, one at a time, to move and enlarge under finger, wheel or key, up to the whole
// screen.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const { t, h } = pommel;
  const MOST = 24; // times enlarged
  const FILLS = 0.6; // of the screen: a sheet that fills less of it is shown in part, so that it is read
  const TRIED = 12; // places across and down where an enlarged window is tried

  // Where on a drawing its strokes and letters are: their middles, the frame round all of it left out.
  function inked(svg, whole) {
    const found = [];
    for (const one of svg.querySelectorAll("path, circle, text, line, polyline, rect")) {
      const box = one.getBBox();
      if (box.width > whole[2] / 2 || box.height > whole[3] / 2) continue;
      found.push([box.x + box.width / 2, box.y + box.height / 2]);
    }
    return found;
  }

  // Puts a drawing into a frame that enlarges it. Our own SVG, written by the program into this page.
  function zoomed(frame, markup) {
    frame.innerHTML = markup;
    const svg = frame.querySelector("svg");
    svg.setAttribute("role", "img");
    const paper = svg.getAttribute("viewBox").split(/[ ,]+/).map(Number);
    svg.removeAttribute("width");
    svg.removeAttribute("height");
    frame.style.aspectRatio = `${paper[2]} / ${paper[3]}`;
    let ink = null;
    let whole = [...paper]; // the paper, with what a frame of another shape shows beside it
    let box = [...paper];
    const show = () => svg.setAttribute("viewBox", box.join(" "));
    const scale = () => box[2] / frame.clientWidth;
    function zoom(factor, clientX, clientY) {
      const room = frame.getBoundingClientRect();
      const [u, v] = [(clientX - room.left) / room.width, (clientY - room.top) / room.height];
      const wide = widthOf(factor);
      const change = wide / box[2];
      box = [box[0] + u * box[2] * (1 - change), box[1] + v * box[3] * (1 - change),
        wide, box[3] * change];
      keep();
    }
    const widthOf = (factor) => Math.min(whole[2], Math.max(paper[2] / MOST, box[2] / factor));
    function keep() {
      for (const i of [0, 1]) {
        const least = Math.min(paper[i], paper[i] + (paper[i + 2] - box[i + 2]) / 2);
        const most = Math.max(paper[i] + paper[i + 2] - box[i + 2], least);
        box[i] = Math.max(least, Math.min(most, box[i]));
      }
      frame.classList.toggle("enlarged", box[2] < whole[2] * 0.99);
      show();
    }

    // A window of this size within the one that is shown, where there is something to see: about its
    // middle, or where most is.
    function seen(wide, high) {
      ink = ink || inked(svg, paper);
      const many = (x, y) => ink.filter(
        ([a, b]) => a > x && a < x + wide && b > y && b < y + high).length;
      const middle = [box[0] + (box[2] - wide) / 2, box[1] + (box[3] - high) / 2];
      let [best, most] = [middle, many(...middle)];
      const enough = 2 * most;
      for (let i = 0; i <= TRIED; i += 1) {
        for (let j = 0; j <= TRIED; j += 1) {
          const place = [box[0] + ((box[2] - wide) * i) / TRIED, box[1] + ((box[3] - high) * j) / TRIED];
          const count = many(...place);
          if (count > enough && count > most) [best, most] = [place, count];
        }
      }
      return [...best, wide, high];
    }

    function larger(factor) {
      const wide = widthOf(factor);
      if (factor > 1) box = seen(wide, (box[3] * wide) / box[2]);
      else zoom(factor, ...middle());
      keep();
    }

    // To the frame as it is now: of the paper's own shape, or the whole screen, which a part of it fills.
    function fit(full) {
      frame.style.aspectRatio = full ? "auto" : `${paper[2]} / ${paper[3]}`;
      const ratio = full ? frame.clientWidth / frame.clientHeight : paper[2] / paper[3];
      const [wide, high] = [Math.max(paper[2], paper[3] * ratio), Math.max(paper[3], paper[2] / ratio)];
      whole = [paper[0] - (wide - paper[2]) / 2, paper[1] - (high - paper[3]) / 2, wide, high];
      box = [...whole];
      const part = Math.min(paper[2], paper[3] * ratio);
      if (full && part < FILLS * wide) {
        box = seen(part, part / ratio);
      }
      keep();
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
    return { larger, fit };
  }

  function browser(list, label) {
    if (!list.length) return { place: h("p", {}, t("no_sheets")), go: () => {} };
    const frame = h("div", { class: "paper", tabindex: "0", role: "group", "aria-label": label });
    let held = null;
    let at = 0;
    let full = false;
    const which = h("select", { "aria-label": label, onchange: () => go(Number(which.value)) },
      list.map((one, n) => h("option", { value: n }, one.title)));
    const title = h("p", { class: "small" });
    function go(number) {
      at = (number + list.length) % list.length;
      which.value = at;
      title.textContent = list[at].title; // a narrow box cuts a long one off
      held = zoomed(frame, list[at].svg);
      if (full) held.fit(true);
    }
    const turn = h("button", { type: "button", onclick: () => (full ? leave() : enter()) }, t("whole_screen"));
    const place = h("div", { class: "browser", onkeydown: (event) => {
      if (event.key === "Escape" && full) leave();
    } }, which, title, frame,
      h("div", { class: "four" },
        h("button", { type: "button", onclick: () => go(at - 1) }, t("before")),
        h("button", { type: "button", onclick: () => held.larger(1.5) }, t("larger")),
        h("button", { type: "button", onclick: () => held.larger(1 / 1.5) }, t("smaller")),
        h("button", { type: "button", onclick: () => go(at + 1) }, t("next"))), turn);

    // Over the whole screen and back: what lies beneath can be neither reached nor heard.
    function fill(whole) {
      full = whole;
      place.classList.toggle("full", full);
      turn.textContent = full ? t("as_before") : t("whole_screen");
      for (let one = place; one !== document.body; one = one.parentElement) {
        for (const other of one.parentElement.children) {
          if (other !== one && other.tagName !== "SCRIPT") other.inert = full;
        }
      }
      held.fit(full);
      turn.focus({ preventScroll: true });
    }
    // The browser's own way back leaves the whole screen too, and nothing else.
    function enter() {
      globalThis.history.pushState(null, "");
      fill(true);
    }
    function leave() {
      fill(false);
      globalThis.history.back();
    }
    globalThis.addEventListener("popstate", () => full && fill(false));
    new ResizeObserver(() => full && held.fit(true)).observe(frame);
    go(0);
    return { place, go };
  }

  pommel.screens = pommel.screens || {};
  pommel.screens.draw = () => {
    const sheets = (pommel.read("sheets") || { sheets: [] }).sheets;
    const drawings = browser(sheets, t("drawing"));
    const back = h("div", { class: "back" });
    pommel.onShow.draw = () => {
      const { toSheet } = pommel;
      pommel.toSheet = null;
      back.replaceChildren();
      if (!toSheet) return;
      drawings.go(Math.max(0, sheets.findIndex((one) => one.name === toSheet.name)));
      back.append(h("button", { type: "button", onclick: () => {
        globalThis.location.hash = "steps";
      } }, t("back_to_step", { n: toSheet.step })));
    };
    return h("div", {}, back, drawings.place,
      h("h3", {}, t("pictures")), browser(pommel.read("pictures") || [], t("picture")).place,
      h("p", { class: "note" }, t("draw_help")));
  };
})(globalThis.pommel);
