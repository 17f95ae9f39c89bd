// A drawing of the ship that came once; afterwards only one byte per panel comes in for a colouring. The wheel and a
// drag move the paper; a click or the arrow keys choose a panel.
const DRAG_PX = 4; // a press that moves further shifts the paper
const [NAME_MM, NAME_PX] = [4.5, 13]; // words of this size on paper name areas, and are read from afar too
const LEAST_PX = 6.5; // words smaller than this cannot be read
const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));

export default {
  template: `
    <div class="drawing-view" tabindex="0" role="application" :aria-label="label" aria-roledescription="drawing">
      <div class="drawing-view-paper" ref="paper"></div>
      <div class="view-tip" ref="tip" hidden></div>
    </div>`,
  props: { label: String, drawing_url: String },

  mounted() {
    this.ready = new Promise((resolve) => (this.isReady = resolve));
    this.panels = new Map();
    this.classLabels = [];
    this.chosenRow = null;
    this.$el.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    this.$el.addEventListener("pointerdown", (event) => this.press(event));
    this.$el.addEventListener("pointermove", (event) => this.move(event));
    this.$el.addEventListener("pointerup", (event) => this.release(event));
    this.$el.addEventListener("pointerleave", () => (this.$refs.tip.hidden = true));
    this.$el.addEventListener("dblclick", () => this.fit());
    this.$el.addEventListener("keydown", (event) => this.key(event));
    this.observer = new ResizeObserver(() => this.box && this.apply());
    this.observer.observe(this.$el);
    if (this.drawing_url) this.load(this.drawing_url);
  },

  beforeUnmount() {
    this.observer.disconnect();
  },

  methods: {
    // Fetch the drawing and hang it in; it is read as XML, in which words are words and nothing runs.
    async load(url) {
      const answer = await fetch(url);
      if (!answer.ok) return;
      const read = new DOMParser().parseFromString(await answer.text(), "image/svg+xml");
      const svg = read.documentElement;
      if (svg.nodeName !== "svg") return;
      for (const bad of svg.querySelectorAll("script, foreignObject")) bad.remove();
      svg.setAttribute("aria-hidden", "true");
      const before = this.box;
      this.svg = document.adoptNode(svg);
      this.$refs.paper.replaceChildren(this.svg);
      this.panels = new Map();
      for (const item of this.svg.querySelectorAll("[data-row]")) this.panels.set(Number(item.dataset.row), item);
      this.sizes = this.wordsBySize();
      this.home = this.svg.getAttribute("viewBox").split(" ").map(Number);
      this.box = before ?? [...this.home];
      this.apply();
      if (this.lastPaint) this.colour(...this.lastPaint);
      if (this.chosenRow !== null) this.mark(this.chosenRow);
      this.isReady();
      this.$emit("shown", { panels: this.panels.size });
    },

    // Words, and the plates behind them, by the size of the type.
    wordsBySize() {
      const found = new Map();
      for (const words of this.svg.querySelectorAll("text")) {
        const size = Number(words.getAttribute("font-size"));
        if (!found.has(size)) found.set(size, []);
        found.get(size).push(words);
        const plate = words.previousElementSibling;
        if (plate?.classList.contains("plate")) found.get(size).push(plate);
      }
      return [...found].map(([size, items]) => ({ size, items }));
    },

    async paint(classes, colours, labels) {
      await this.ready;
      this.colour(classes, colours, labels);
    },

    colour(classes, colours, labels) {
      this.lastPaint = [classes, colours, labels];
      this.classes = bytes(classes);
      this.classLabels = labels;
      colours.forEach((hex, number) => this.$el.style.setProperty(`--class-${number}`, hex));
      for (const [row, item] of this.panels) {
        const found = String(this.classes[row]);
        if (item.dataset.class !== found) item.dataset.class = found;
      }
    },

    async choose(row) {
      await this.ready;
      this.mark(row);
    },

    mark(row) {
      this.chosenMark?.remove();
      this.chosenRow = row;
      const item = this.panels.get(row);
      if (!item) return;
      this.chosenMark = item.cloneNode();
      this.chosenMark.removeAttribute("data-row");
      this.chosenMark.removeAttribute("data-class");
      this.chosenMark.setAttribute("class", "chosen-panel");
      this.svg.append(this.chosenMark);
      this.reveal(item.getBBox());
    },

    // Bring a box of the drawing into sight, moving the paper as little as that takes.
    reveal(found) {
      const [x, y, width, height] = this.box;
      const dx = found.x < x ? found.x - x : Math.max(0, found.x + found.width - x - width);
      const dy = found.y < y ? found.y - y : Math.max(0, found.y + found.height - y - height);
      if (dx || dy) {
        this.box = [x + dx, y + dy, width, height];
        this.apply();
      }
    },

    dataLayer(name, on) {
      this.$el.classList.toggle(`without-${name}`, !on);
    },

    // Show the part of the paper that is to be seen; words too small to read there are left away.
    apply() {
      if (!this.svg) return;
      this.svg.setAttribute("viewBox", this.box.map((value) => value.toFixed(3)).join(" "));
      const least = LEAST_PX * this.scale();
      if (!this.sizes) return;
      for (const { size, items } of this.sizes) {
        if (size >= NAME_MM) {
          const drawn = Math.max(size, NAME_PX * this.scale());
          for (const item of items) {
            if (item.nodeName === "text") item.setAttribute("font-size", drawn.toFixed(2));
            else item.style.display = "none";
            item.classList.add("named");
          }
          continue;
        }
        const hidden = size < least;
        if (items.hidden === hidden) continue;
        items.hidden = hidden;
        for (const item of items) item.style.display = hidden ? "none" : "";
      }
    },

    fit() {
      if (!this.home) return;
      this.box = [...this.home];
      this.apply();
    },

    // Millimetres of drawing per pixel of screen.
    scale() {
      const { clientWidth, clientHeight } = this.$refs.paper;
      return Math.max(this.box[2] / clientWidth, this.box[3] / clientHeight);
    },

    zoom(factor, at) {
      const [x, y, width, height] = this.box;
      const wide = Math.min(Math.max(width * factor, this.home[2] / 60), this.home[2] * 1.5);
      const share = wide / width;
      const centre = at ?? [x + width / 2, y + height / 2];
      this.box = [centre[0] - (centre[0] - x) * share, centre[1] - (centre[1] - y) * share, wide, height * share];
      this.apply();
    },

    place(event) {
      const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
      return [point.x, point.y];
    },

    wheel(event) {
      if (!this.svg) return;
      event.preventDefault();
      this.zoom(Math.exp(event.deltaY * 0.0015), this.place(event));
    },

    press(event) {
      if (!this.svg || event.button !== 0) return;
      this.pressed = { x: event.clientX, y: event.clientY, box: [...this.box], far: false };
    },

    move(event) {
      if (!this.pressed) return this.hover(event);
      const [dx, dy] = [event.clientX - this.pressed.x, event.clientY - this.pressed.y];
      if (Math.hypot(dx, dy) > DRAG_PX) this.pressed.far = true;
      if (!this.pressed.far) return;
      const scale = this.scale();
      this.box = [this.pressed.box[0] - dx * scale, this.pressed.box[1] - dy * scale, this.box[2], this.box[3]];
      this.apply();
    },

    release(event) {
      const pressed = this.pressed;
      this.pressed = null;
      if (!pressed || pressed.far) return;
      const row = this.rowUnder(event);
      if (row !== null) this.$emit("pick", { row });
    },

    rowUnder(event) {
      for (const item of document.elementsFromPoint(event.clientX, event.clientY))
        if (item.dataset?.row !== undefined && this.$el.contains(item)) return Number(item.dataset.row);
      return null;
    },

    hover(event) {
      const row = this.svg ? this.rowUnder(event) : null;
      const tip = this.$refs.tip;
      tip.hidden = row === null;
      if (row === null) return;
      const name = this.panels.get(row)?.getAttribute("data-name") ?? "";
      const meaning = this.classes ? this.classLabels[this.classes[row]] : "";
      tip.textContent = `${name}${meaning ? ": " + meaning : ""}`;
      const box = this.$el.getBoundingClientRect();
      tip.style.left = `${Math.min(event.clientX - box.left + 12, box.width - 190)}px`;
      tip.style.top = `${Math.max(event.clientY - box.top - 30, 4)}px`;
    },

    // The nearest panel in a direction: near along it, and not far beside it.
    neighbour(row, dx, dy) {
      const middle = (item) => {
        const box = item.getBBox();
        return [box.x + box.width / 2, box.y + box.height / 2];
      };
      const from = middle(this.panels.get(row));
      let [best, least] = [null, Infinity];
      for (const [other, item] of this.panels) {
        if (other === row) continue;
        const to = middle(item);
        const along = (to[0] - from[0]) * dx + (to[1] - from[1]) * dy;
        const beside = Math.abs((to[0] - from[0]) * dy) + Math.abs((to[1] - from[1]) * dx);
        if (along <= 0.01) continue;
        const cost = along + 3 * beside;
        if (cost < least) [best, least] = [other, cost];
      }
      return best;
    },

    key(event) {
      if (!this.svg) return;
      const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
      if (ways[event.key] && this.panels.size) {
        event.preventDefault();
        const row = this.chosenRow ?? this.panels.keys().next().value;
        const next = this.panels.has(row) ? this.neighbour(row, ...ways[event.key]) : this.panels.keys().next().value;
        if (next !== null) this.$emit("pick", { row: next });
      } else if (event.key === "+" || event.key === "=") this.zoom(0.8);
      else if (event.key === "-") this.zoom(1.25);
      else if (event.key === "Home") this.fit();
    },
  },
};
