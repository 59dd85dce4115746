"use strict";
// Turns the cake, comes closer, shows seams and sizes, and words the answer. Nothing is fetched and nothing is sent.
(() => {
  const find = (name) => document.getElementById(name);
  const between = (low, value, high) => Math.min(high, Math.max(low, value));

  const turntable = (data) => {
    const stage = find("stage"), sheet = find("sheet"), picture = find("picture"), hand = find("around");
    const { size: [width, height], steps, elevations, frames } = data;
    const state = { step: 0, row: 0, scale: 1, x: 0, y: 0, seams: false, sizes: false };
    const images = new Map();

    const address = (index) => {
      if (!images.has(index)) {
        // Decoded once and kept, so that turning doesn't stutter.
        const image = new Image();
        image.src = "data:image/jpeg;base64," + frames[index].jpeg;
        images.set(index, image);
      }
      return images.get(index).src;
    };
    const words = () => {
      const degrees = state.step * 360 / steps;
      const side = degrees === 0 ? "from the front" : degrees === 180 ? "from the back"
        : degrees < 180 ? `${Math.round(degrees)}° round to the right` : `${Math.round(360 - degrees)}° round to the left`;
      return side + (state.row ? ", from higher up" : "");
    };
    const show = () => {
      const index = state.row * steps + state.step;
      picture.src = address(index);
      picture.alt = `The cake, seen ${words()}`;
      find("seam-marks").innerHTML = state.seams ? frames[index].seams : "";
      find("size-marks").innerHTML = state.sizes ? frames[index].sizes : "";
      hand.value = state.step > steps / 2 ? state.step - steps : state.step;
      hand.setAttribute("aria-valuetext", words());
      find("height").setAttribute("aria-pressed", String(state.row === 1));
      find("seams").setAttribute("aria-pressed", String(state.seams));
      find("sizes").setAttribute("aria-pressed", String(state.sizes));
      place();
    };
    const place = () => {
      const box = stage.getBoundingClientRect();
      state.x = between(box.width * (1 - state.scale), state.x, 0);
      state.y = between(box.height * (1 - state.scale), state.y, 0);
      sheet.style.transform = state.scale === 1 ? "" : `translate(${state.x}px, ${state.y}px) scale(${state.scale})`;
      stage.classList.toggle("close", state.scale > 1);
      find("farther").disabled = state.scale <= 1;
    };
    const turn = (by) => { state.step = ((state.step + by) % steps + steps) % steps; show(); };
    const rise = (row) => { state.row = between(0, row, elevations.length - 1); show(); };
    const zoom = (scale, at) => {
      const box = stage.getBoundingClientRect();
      const [x, y] = at || [box.width / 2, box.height / 2];
      const next = between(1, scale, 4), share = next / state.scale;
      state.x = x - (x - state.x) * share;
      state.y = y - (y - state.y) * share;
      state.scale = next;
      place();
    };

    const fingers = new Map();
    let last = null, kept = 0;
    const inside = (event) => {
      const box = stage.getBoundingClientRect();
      return [event.clientX - box.left, event.clientY - box.top];
    };
    const pinch = () => {
      const [[ax, ay], [bx, by]] = [...fingers.values()];
      return { far: Math.hypot(ax - bx, ay - by), middle: [(ax + bx) / 2, (ay + by) / 2] };
    };
    stage.addEventListener("pointerdown", (event) => {
      fingers.set(event.pointerId, inside(event));
      try { stage.setPointerCapture(event.pointerId); } catch { /* a pointer that is gone already */ }
      stage.classList.add("held");
      stage.focus({ preventScroll: true });
      event.preventDefault();
      last = inside(event);
      kept = 0;
    });
    stage.addEventListener("pointermove", (event) => {
      if (!fingers.has(event.pointerId)) { return; }
      const at = inside(event);
      if (fingers.size === 2) {
        const before = pinch();
        fingers.set(event.pointerId, at);
        const now = pinch();
        state.x += now.middle[0] - before.middle[0];
        state.y += now.middle[1] - before.middle[1];
        zoom(state.scale * now.far / Math.max(1, before.far), now.middle);
        return;
      }
      fingers.set(event.pointerId, at);
      const [dx, dy] = [at[0] - last[0], at[1] - last[1]];
      if (state.scale > 1) {
        state.x += dx;
        state.y += dy;
        place();
        last = at;
        return;
      }
      // Once across the picture is half a turn.
      const stride = stage.clientWidth / (steps / 2);
      const by = Math.trunc(dx / stride);
      if (by) { turn(-by); last = [last[0] + by * stride, last[1]]; }
      kept = dy;
      if (Math.abs(kept) > stage.clientHeight / 4) { rise(kept > 0 ? 1 : 0); last = [last[0], at[1]]; }
    });
    const release = (event) => {
      fingers.delete(event.pointerId);
      if (!fingers.size) { stage.classList.remove("held"); }
      last = [...fingers.values()][0] || null;
    };
    stage.addEventListener("pointerup", release);
    stage.addEventListener("pointercancel", release);
    stage.addEventListener("wheel", (event) => {
      // From afar, scrolling on goes down the page.
      if (event.deltaY > 0 && state.scale <= 1) { return; }
      event.preventDefault();
      zoom(state.scale * Math.exp(-event.deltaY / 400), inside(event));
    }, { passive: false });
    stage.addEventListener("dblclick", (event) => zoom(state.scale > 1 ? 1 : 2, inside(event)));
    stage.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) { return; }
      const keys = {
        ArrowLeft: () => turn(-1), ArrowRight: () => turn(1), ArrowUp: () => rise(1), ArrowDown: () => rise(0),
        "+": () => zoom(state.scale * 1.25), "=": () => zoom(state.scale * 1.25), "-": () => zoom(state.scale / 1.25),
        Home: () => { state.step = 0; state.row = 0; zoom(1); show(); },
      };
      if (keys[event.key]) { keys[event.key](); event.preventDefault(); }
    });
    hand.addEventListener("input", () => { state.step = (Number(hand.value) + steps) % steps; show(); });
    find("height").addEventListener("click", () => rise(1 - state.row));
    find("seams").addEventListener("click", () => { state.seams = !state.seams; show(); });
    find("sizes").addEventListener("click", () => { state.sizes = !state.sizes; show(); });
    find("closer").addEventListener("click", () => zoom(state.scale * 1.5));
    find("farther").addEventListener("click", () => zoom(state.scale / 1.5));
    window.addEventListener("resize", place);

    picture.width = width;
    picture.height = height;
    find("marks").setAttribute("viewBox", `0 0 ${width} ${height}`);
    hand.min = String(1 - steps / 2);
    hand.max = String(steps / 2);
    find("seams").hidden = !frames.some((frame) => frame.seams);
    find("sizes").hidden = !frames.some((frame) => frame.sizes);
    find("turntable").hidden = false;
    find("hero").hidden = true;
    // Near the customer's own view, a little from the right.
    state.step = Math.min(steps - 1, Math.round(steps * 22 / 360));
    show();
  };

  const answer = () => {
    const reply = find("reply"), text = find("text"), said = find("said"), name = find("name"), wish = find("wish");
    const { cake, revision } = reply.dataset;
    const today = () => {
      const now = new Date(), two = (number) => String(number).padStart(2, "0");
      return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
    };
    const wording = () => {
      const approves = find("approve").checked;
      find("wishes").hidden = approves;
      const end = `\nName: ${name.value.trim()}\nDate: ${today()}`;
      text.value = approves
        ? `I approve the cake “${cake}” as the proof shows and describes it, revision ${revision}.${end}`
        : `Please change the cake “${cake}”, proof revision ${revision}:\n${wish.value.trim()}${end}`;
      said.textContent = "";
    };
    for (const field of [find("approve"), find("change"), name, wish]) { field.addEventListener("input", wording); }
    find("copy").addEventListener("click", async () => {
      text.select();
      let done = false;
      try { await navigator.clipboard.writeText(text.value); done = true; } catch { done = document.execCommand("copy"); }
      said.textContent = done ? "Copied. Paste it into a message to your decorator." : "It is marked now: copy it, and paste it into a message.";
    });
    reply.hidden = false;
    find("plain").hidden = true;
    wording();
  };

  const data = find("frames");
  if (data) { turntable(JSON.parse(data.textContent)); }
  answer();
})();
