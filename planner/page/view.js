// The attachment in three dimensions: what can be turned on it, hidden, pulled apart and swung.
"use strict";
globalThis.pommel = globalThis.pommel || {};
(function (pommel) {
  const { t, h, numbers } = pommel;
  const STEP = 40; // dots that a button moves the picture by

  function slider(label, low, high, value, show, onInput) {
    const shown = h("output", {}, show(value));
    const input = h("input", {
      type: "range", min: low, max: high, step: (high - low) / 200 || 1, value,
      "aria-label": label,
      oninput: () => {
        shown.textContent = show(Number(input.value));
        input.setAttribute("aria-valuetext", shown.textContent);
        onInput(Number(input.value));
      },
    });
    return { input, row: h("label", { class: "slide" }, h("span", {}, label), shown, input) };
  }

  pommel.screens = pommel.screens || {};
  pommel.screens.view = () => {
    const scene = pommel.read("scene");
    if (!scene) return h("p", {}, t("no_scene"));
    const canvas = h("canvas", { tabindex: "0", role: "img", "aria-label": t("view_label") });
    let viewer;
    try {
      viewer = new pommel.Viewer(canvas, scene);
    } catch {
      return h("p", { class: "caution" }, t("no_webgl"));
    }
    pommel.viewer = viewer;
    const picked = h("p", { class: "picked", "aria-live": "polite" }, t("tap_part"));
    const controls = h("div", { class: "slides" });
    const parts = h("div", { class: "parts" });
    viewer.onPick = (thing) => {
      picked.replaceChildren(thing ? h("b", {}, thing.title) : t("tap_part"));
      if (!thing) return;
      picked.append(" ", h("button", { type: "button", onclick: () => {
        viewer.hidden.add(thing.name);
        viewer.paint();
        list();
        picked.textContent = t("hidden_now", { title: thing.title });
      } }, t("hide")));
    };

    function list() {
      const named = new Map(); // what is called the same is shown and hidden together
      for (const thing of viewer.things) {
        named.set(thing.title, [...(named.get(thing.title) || []), thing]);
      }
      parts.replaceChildren(...[...named].map(([title, things]) => {
        const hidden = things.filter((thing) => viewer.hidden.has(thing.name)).length;
        const tick = h("input", { type: "checkbox", checked: !hidden, onchange: () => {
          for (const thing of things) {
            if (tick.checked) viewer.hidden.delete(thing.name);
            else viewer.hidden.add(thing.name);
          }
          viewer.paint();
        } });
        tick.indeterminate = hidden > 0 && hidden < things.length;
        const many = things.length > 1 && things[0].kind === "bought";
        return h("label", { class: "part" }, tick,
          h("span", {}, many ? t("many_of", { n: things.length, title }) : title));
      }));
    }

    // What stands round it: nothing, or the lathe with one ball's work.
    function stand(ball) {
      viewer.more = ball ? ball.things : [];
      viewer.fit();
      const [tip, swing] = ball ? [ball.tip_mm, ball.swing_deg] : [scene.tip_mm, scene.swing_deg];
      const pose = { tip: ball ? tip[0] : (tip[0] + tip[1]) / 2, swing: Math.min(90, swing[1]), out: 0 };
      viewer.set(pose);
      const degrees = (value) => numbers.angle(value);
      controls.replaceChildren(
        slider(t("swing"), swing[0], swing[1], pose.swing, degrees, (v) => viewer.set({ swing: v })).row,
        slider(t("tip_radius"), tip[0], tip[1], pose.tip, (v) => numbers.size(v),
          (v) => viewer.set({ tip: v })).row,
        slider(t("apart"), 0, 100, 0, (v) => `${Math.round(v)}%`, (v) => viewer.set({ out: v / 100 })).row);
      list();
    }

    const which = h("select", { "aria-label": t("stands"), onchange: () => {
      stand(scene.balls[Number(which.value)] || null);
    } },
      scene.balls.map((ball, n) => h("option", { value: n }, t("with_ball", { title: ball.title }))),
      h("option", { value: -1 }, t("alone")));
    const view = (key, yaw, pitch) => h("button", { type: "button",
      onclick: () => viewer.look(yaw, pitch) }, t(key));
    const shades = globalThis.matchMedia("(prefers-color-scheme: dark)");
    viewer.onTheme = () => {
      const forced = document.documentElement.dataset.theme;
      viewer.dark = forced ? forced === "dark" : shades.matches;
      viewer.paint();
    };
    shades.addEventListener("change", viewer.onTheme);
    new ResizeObserver(() => viewer.paint()).observe(canvas);
    stand(scene.balls[0] || null);
    viewer.onTheme();
    return h("div", {}, h("div", { class: "stage" }, canvas), picked, controls,
      h("div", { class: "four" }, view("from_front", 0.82, 0.45), view("from_rear", -0.85, 0.42),
        view("from_tailstock", 0, 0), view("from_above", 0, 1.55)),
      h("div", { class: "pair" },
        h("button", { type: "button", onclick: () => viewer.zoomBy(1.25) }, t("larger")),
        h("button", { type: "button", onclick: () => viewer.zoomBy(0.8) }, t("smaller"))),
      h("div", { class: "five" },
        [[t("move_left"), "\u2190", -1, 0], [t("move_right"), "\u2192", 1, 0],
          [t("move_up"), "\u2191", 0, -1], [t("move_down"), "\u2193", 0, 1]].map(([way, sign, x, y]) =>
          h("button", { type: "button", "aria-label": way,
            onclick: () => viewer.panBy(x * STEP, y * STEP) }, sign)),
        h("button", { type: "button", onclick: () => viewer.fit() }, t("fit"))),
      which,
      h("details", {}, h("summary", {}, t("parts_shown")),
        h("button", { type: "button", onclick: () => {
          viewer.hidden.clear();
          viewer.paint();
          list();
        } }, t("show_all")), parts),
      h("p", { class: "note" }, t("view_help")));
  };
})(globalThis.pommel);
