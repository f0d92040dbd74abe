"use strict";
// What the page does beyond showing itself: drawings that are looked at closely, the figures of a piece, the search, ticks.
// Without it everything is still there to be read and printed.
(() => {
  const all = (selector, root = document) => [...root.querySelectorAll(selector)];
  const made = (name, words) => Object.assign(document.createElement(name), { textContent: words });
  const within = (value, least, most) => Math.min(Math.max(value, least), most);

  // The lines of the cut lists: every figure that the page tells of a piece is read off its line.
  const lines = all(".cut-list tbody tr").map((row) => {
    const table = row.closest("table");
    const heads = all("thead th", table).map((head) => head.textContent);
    const cells = [...row.cells].map((cell) => cell.textContent.trim());
    const of = (head) => cells[heads.indexOf(head)];
    return {
      row, heads, cells, piece: row.dataset.piece, name: of("Piece"), number: of("No."), cloth: table.dataset.cloth,
      box: row.querySelector("input"), text: [of("No."), of("Piece"), of("Goes"), table.dataset.cloth].join(" "),
    };
  });
  const lineOf = new Map(lines.map((line) => [line.piece, line]));

  // ---- Drawings -------------------------------------------------------------------------------------------------
  const CLOSER = 1.4;
  const CLOSEST = 60;
  // A drawing this many times as long as its window is first shown at its beginning, large enough to be read.
  const LONG = 1.6;

  class Drawing {
    constructor(frame) {
      this.svg = frame.querySelector("svg.view");
      this.told = frame.querySelector(".told");
      this.overview = frame.querySelector(".overview");
      const box = this.svg.viewBox.baseVal;
      this.whole = { x: box.x, y: box.y, w: box.width, h: box.height };
      this.pieces = frame.dataset.pieces ? lines.filter((line) => line.piece.startsWith(`${frame.dataset.pieces}p`)) : [];
      this.fingers = new Map();
      this.listen(frame);
      this.begin();
    }

    /** Height over width of the window. */
    get shape() {
      const window = this.svg.getBoundingClientRect();
      return window.width > 0 ? window.height / window.width : this.whole.h / this.whole.w;
    }

    /** The width of cloth in view when all of it is. */
    get widest() {
      return Math.max(this.whole.w, this.whole.h / this.shape);
    }

    begin() {
      const high = this.whole.h / this.shape;
      if (this.overview && this.whole.w > LONG * high) this.show(this.whole.x, this.whole.y, high);
      else this.showAll();
    }

    showAll() {
      const w = this.widest;
      this.show(this.whole.x - (w - this.whole.w) / 2, this.whole.y - (w * this.shape - this.whole.h) / 2, w);
    }

    show(x, y, width) {
      const w = within(width, Math.min(CLOSEST, this.widest), this.widest);
      const h = w * this.shape;
      const inside = (place, length, from, size) =>
        length >= size ? from - (length - size) / 2 : within(place, from, from + size - length);
      this.view = { x: inside(x, w, this.whole.x, this.whole.w), y: inside(y, h, this.whole.y, this.whole.h), w, h };
      const { x: left, y: top } = this.view;
      this.svg.setAttribute("viewBox", `${left} ${top} ${w} ${h}`);
      this.svg.classList.toggle("close", w < this.widest * 0.999);
      if (this.overview) this.mark();
    }

    /** Shows on the small drawing of the whole what is in view. */
    mark() {
      const shown = this.overview.querySelector(".shown");
      const view = { x: this.view.x, y: this.view.y, width: this.view.w, height: this.view.h };
      for (const [name, value] of Object.entries(view)) shown.setAttribute(name, value);
      this.overview.classList.toggle("idle", this.whole.w <= LONG * this.whole.h);
    }

    zoom(times, at) {
      const { x, y, w, h } = this.view;
      const middle = at ?? { x: x + w / 2, y: y + h / 2 };
      const width = within(w / times, Math.min(CLOSEST, this.widest), this.widest);
      const share = width / w;
      this.show(middle.x - (middle.x - x) * share, middle.y - (middle.y - y) * share, width);
    }

    move(right, down) {
      this.show(this.view.x + right * this.view.w, this.view.y + down * this.view.h, this.view.w);
    }

    at(event) {
      const window = this.svg.getBoundingClientRect();
      return {
        x: this.view.x + ((event.clientX - window.left) / window.width) * this.view.w,
        y: this.view.y + ((event.clientY - window.top) / window.height) * this.view.h,
      };
    }

    do(what) {
      const step = { in: () => this.zoom(CLOSER), out: () => this.zoom(1 / CLOSER), all: () => this.showAll(),
        next: () => this.step(1), back: () => this.step(-1) }[what];
      step?.();
    }

    key(event) {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const act = { "+": () => this.do("in"), "=": () => this.do("in"), "-": () => this.do("out"), "−": () => this.do("out"),
        0: () => this.do("all"), ".": () => this.do("next"), ",": () => this.do("back"),
        ArrowLeft: () => this.move(-0.15, 0), ArrowRight: () => this.move(0.15, 0),
        ArrowUp: () => this.move(0, -0.15), ArrowDown: () => this.move(0, 0.15) }[event.key];
      if (!act) return;
      event.preventDefault();
      act();
    }

    listen(frame) {
      const { svg } = this;
      all("button[data-do]", frame).forEach((button) => button.addEventListener("click", () => this.do(button.dataset.do)));
      svg.addEventListener("keydown", (event) => this.key(event));
      svg.addEventListener("wheel", (event) => {
        if (!event.ctrlKey) return;
        event.preventDefault();
        this.zoom(Math.exp(-event.deltaY / 300), this.at(event));
      }, { passive: false });
      svg.addEventListener("dblclick", (event) => this.zoom(CLOSER * CLOSER, this.at(event)));
      svg.addEventListener("pointerdown", (event) => this.fingers.set(event.pointerId, this.at(event)));
      svg.addEventListener("pointermove", (event) => this.drag(event));
      ["pointerup", "pointercancel", "pointerleave"].forEach((name) =>
        svg.addEventListener(name, (event) => this.fingers.delete(event.pointerId)));
      ["pointerover", "click"].forEach((name) => svg.addEventListener(name, (event) => {
        const piece = event.target.closest(".piece");
        if (piece && (name === "click" || event.pointerType === "mouse")) this.choose(lineOf.get(piece.id));
      }));
      this.overview?.addEventListener("pointerdown", (event) => this.jump(event));
      this.overview?.addEventListener("pointermove", (event) => event.buttons && this.jump(event));
      addEventListener("resize", () => this.show(this.view.x, this.view.y, this.view.w));
    }

    /** One finger moves the drawing, two pull it closer. What was under a finger stays under it. */
    drag(event) {
      const held = this.fingers.get(event.pointerId);
      if (!held || !this.svg.classList.contains("close") && this.fingers.size < 2) return;
      const now = this.at(event);
      const other = [...this.fingers].find(([id]) => id !== event.pointerId)?.[1];
      if (other) {
        const apart = (one) => Math.hypot(one.x - other.x, one.y - other.y);
        if (apart(held) > 0) this.zoom(apart(now) / apart(held), other);
        this.fingers.set(event.pointerId, this.at(event));
      } else {
        this.show(this.view.x + held.x - now.x, this.view.y + held.y - now.y, this.view.w);
      }
    }

    /** Goes to where somebody points at on the small drawing of the whole. */
    jump(event) {
      const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.overview.getScreenCTM().inverse());
      this.show(point.x - this.view.w / 2, point.y - this.view.h / 2, this.view.w);
    }

    step(by) {
      const count = this.pieces.length;
      if (count === 0) return;
      const at = this.pieces.indexOf(this.chosen);
      this.bring(this.pieces[at < 0 ? (by > 0 ? 0 : count - 1) : (at + by + count) % count]);
    }

    /** Brings a piece into the middle, no farther away than it can be read. */
    bring(line) {
      const box = document.getElementById(line.piece).getBBox();
      const around = Math.max(box.width * 1.6, (box.height * 1.6) / this.shape);
      const w = within(around, Math.min(this.view.w, 6 * around), this.widest);
      this.show(box.x + box.width / 2 - w / 2, box.y + box.height / 2 - (w * this.shape) / 2, w);
      this.choose(line);
    }

    /** Tells the figures of a piece and marks it. */
    choose(line) {
      if (!line || this.chosen === line) return;
      if (this.chosen) document.getElementById(this.chosen.piece).classList.remove("chosen");
      document.getElementById(line.piece).classList.add("chosen");
      this.chosen = line;
      const list = made("dl", "");
      line.heads.forEach((head, index) => {
        if (!line.cells[index] || ["Done", "Piece"].includes(head)) return;
        const pair = made("div", "");
        pair.append(made("dt", head), made("dd", line.cells[index]));
        list.append(pair);
      });
      const link = Object.assign(made("a", "its line in the cut list"), { href: `#${line.row.id}` });
      const name = made("p", "");
      name.append(made("strong", line.name), " ", link);
      this.told.replaceChildren(name, list);
    }
  }

  const drawings = all(".viewer").map((frame) => new Drawing(frame));

  // Paper shows a map as a whole, however closely somebody looked at it before.
  const whole = ({ svg, whole: { x, y, w, h } }) => svg.setAttribute("viewBox", `${x} ${y} ${w} ${h}`);
  addEventListener("beforeprint", () => drawings.forEach(whole));
  addEventListener("afterprint", () => drawings.forEach((one) => one.show(one.view.x, one.view.y, one.view.w)));

  // ---- Search ---------------------------------------------------------------------------------------------------
  const MOST = 24;
  const find = document.getElementById("find");
  const foundWords = document.getElementById("found-words");
  const foundList = document.getElementById("found");

  function search() {
    const words = find.value.toLowerCase().split(/\s+/).filter(Boolean);
    const has = (text) => words.every((word) => text.toLowerCase().includes(word));
    const fitting = words.length ? lines.filter((line) => has(line.text)) : [];
    // Who types a name means the piece of that name before those that go there.
    const named = (line) => has(`${line.number} ${line.name}`);
    const found = [...fitting.filter(named), ...fitting.filter((line) => !named(line))];
    const told = found.length === 1 ? "1 piece" : `${found.length} pieces`;
    const more = found.length > MOST ? `; the first ${MOST} of them are here, type more to narrow it down` : "";
    foundWords.textContent = words.length ? (found.length ? told + more : "No piece has these words.") : "";
    foundList.replaceChildren(...found.slice(0, MOST).map((line) => {
      const button = Object.assign(made("button", `${line.number}  ${line.name}`), { type: "button" });
      button.addEventListener("click", () => go(line));
      const item = made("li", "");
      item.append(button);
      return item;
    }));
  }

  function go(line) {
    const drawing = drawings.find((one) => one.pieces.includes(line));
    if (!drawing) return;
    drawing.svg.closest(".viewer").scrollIntoView({ block: "nearest" });
    drawing.svg.focus({ preventScroll: true });
    drawing.bring(line);
  }

  find?.addEventListener("input", search);
  find?.form.addEventListener("submit", (event) => {
    event.preventDefault();
    foundList.querySelector("button")?.click();
  });

  // ---- Ticks ----------------------------------------------------------------------------------------------------
  const key = document.getElementById("plan").dataset.ticks;

  function refused(what) {
    const note = document.getElementById("no-store");
    if (!note) return;
    note.hidden = false;
    note.textContent = `${what} Ticks on this page are gone when it is closed: keep count in the log, or on paper.`;
  }

  function kept() {
    try {
      const list = JSON.parse(localStorage.getItem(key) ?? "[]");
      return new Set(Array.isArray(list) ? list : []);
    } catch (error) {
      refused(error instanceof SyntaxError ? "The ticks that the browser kept cannot be read." : "This browser keeps nothing for a page from disk.");
      return new Set();
    }
  }

  function keep() {
    try {
      localStorage.setItem(key, JSON.stringify(lines.filter((line) => line.box.checked).map((line) => line.row.id)));
    } catch {
      refused("This browser does not keep the ticks.");
    }
  }

  function showTicks() {
    lines.forEach((line) => {
      line.row.classList.toggle("ticked", line.box.checked);
      document.getElementById(line.piece)?.classList.toggle("ticked", line.box.checked);
    });
    document.body.classList.toggle("has-ticks", lines.some((line) => line.box.checked));
    all(".cut-list").forEach((table) => {
      const boxes = all("input", table);
      table.querySelector(".done").textContent = `${boxes.filter((box) => box.checked).length} of ${boxes.length} cut`;
    });
  }

  function readTicks() {
    const ticked = kept();
    lines.forEach((line) => { line.box.checked = ticked.has(line.row.id); });
    showTicks();
  }

  if (lines.length) {
    readTicks();
    document.getElementById("cutting").addEventListener("change", () => { keep(); showTicks(); });
    // The same page in another window.
    addEventListener("storage", (event) => event.key === key && readTicks());
  }
})();
