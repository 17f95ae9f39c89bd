// The hull in three dimensions. The shell is fetched once and stays on the graphics card; afterwards only one byte per
// panel comes in for a colouring. A picture is drawn when something has changed and not otherwise.
import { OrbitControls, THREE } from "nicegui-scene";

const POINTS = 17; // of one panel: sixteen round its outline and one in its middle
const VIEWS = {
  port: [-0.35, 1, 0.28],
  starboard: [-0.35, -1, 0.28],
  bow: [1, 0.55, 0.22],
  stern: [-1, 0.6, 0.25],
  bottom: [0.05, 0.6, -1],
  above: [0, 0.02, 1],
};
const DRAG_PX = 4; // a press that moves further is a turn of the hull, not a choice

const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));

export default {
  template: `
    <div class="hull-view" tabindex="0" role="application" :aria-label="label" aria-roledescription="turnable picture">
      <div class="view-mark" ref="mark" hidden></div>
      <div class="view-tip" ref="tip" hidden></div>
      <div class="view-failed" ref="failed" role="status" hidden></div>
    </div>`,
  props: { label: String, shell_url: String },

  mounted() {
    this.ready = new Promise((resolve) => (this.isReady = resolve));
    this.names = [];
    this.classLabels = [];
    this.classes = null;
    this.wanted = false;
    try {
      this.renderer = new THREE.WebGLRenderer({ antialias: true, alpha: true, powerPreference: "low-power" });
    } catch {
      this.say("This browser cannot show three dimensions (no WebGL). The drawings show the same.");
      return;
    }
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
    this.$el.prepend(this.renderer.domElement);
    this.scene = new THREE.Scene();
    this.camera = new THREE.PerspectiveCamera(28, 1, 1, 2000);
    this.camera.up.set(0, 0, 1);
    this.scene.add(new THREE.HemisphereLight(0xffffff, 0x8b979e, 2.1));
    const lamp = new THREE.DirectionalLight(0xffffff, 1.5);
    lamp.position.set(0.4, 0.9, 0.8);
    this.camera.add(lamp);
    this.scene.add(this.camera);
    this.controls = new OrbitControls(this.camera, this.renderer.domElement);
    this.controls.enableDamping = false;
    this.controls.addEventListener("change", () => this.draw());
    this.ray = new THREE.Raycaster();
    this.observer = new ResizeObserver(() => this.fitCanvas());
    this.observer.observe(this.$el);
    const canvas = this.renderer.domElement;
    canvas.addEventListener("pointerdown", (event) => (this.pressed = [event.clientX, event.clientY]));
    canvas.addEventListener("pointerup", (event) => this.released(event));
    canvas.addEventListener("pointermove", (event) => this.hover(event));
    canvas.addEventListener("pointerleave", () => (this.$refs.tip.hidden = true));
    canvas.addEventListener("webglcontextlost", (event) => {
      event.preventDefault();
      this.say("The graphics card gave up; load the page again.");
    });
    this.$el.addEventListener("keydown", (event) => this.key(event));
    if (this.shell_url) this.load(this.shell_url);
  },

  beforeUnmount() {
    this.observer?.disconnect();
    this.controls?.dispose();
    this.renderer?.dispose();
  },

  methods: {
    say(words) {
      this.$refs.failed.textContent = words;
      this.$refs.failed.hidden = false;
    },

    // Fetch the shell: a JSON head, then numbers in single precision (web/shell.py says the order).
    async load(url) {
      if (!this.renderer) return;
      const answer = await fetch(url);
      if (!answer.ok) return this.say("The shell could not be read.");
      const buffer = await answer.arrayBuffer();
      const headLength = new DataView(buffer).getUint32(0, true);
      const head = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, headLength)));
      const numbers = new Float32Array(buffer, head.numbers_from);
      this.names = head.panels;
      this.clear();
      this.build(numbers.subarray(0, head.panels.length * POINTS * 3), head.panels.length);
      let from = head.panels.length * POINTS * 3;
      for (const line of head.lines) {
        this.addLine(numbers.subarray(from, from + 3 * line.points), line.kind);
        from += 3 * line.points;
      }
      this.view("bow");
      this.isReady();
      this.$emit("shown", { panels: head.panels.length });
    },

    clear() {
      for (const item of this.parts ?? []) {
        this.scene.remove(item);
        item.geometry.dispose();
        item.material.dispose();
      }
      this.parts = [];
      this.chosen = null;
      this.chosenAt = null;
      this.load_patch = null;
    },

    add(item) {
      this.parts.push(item);
      this.scene.add(item);
      return item;
    },

    build(port, count) {
      const vertices = count * POINTS;
      const position = new Float32Array(2 * vertices * 3);
      position.set(port);
      for (let k = 0; k < vertices; k++) {
        position[3 * (vertices + k)] = port[3 * k];
        position[3 * (vertices + k) + 1] = -port[3 * k + 1];
        position[3 * (vertices + k) + 2] = port[3 * k + 2];
      }
      const index = new Uint32Array(2 * count * 16 * 3);
      const edges = new Uint32Array(2 * count * 16 * 2);
      let at = 0;
      let edge = 0;
      for (let panel = 0; panel < 2 * count; panel++) {
        const first = panel * POINTS;
        for (let k = 0; k < 16; k++) {
          const [a, b] = [first + k, first + ((k + 1) % 16)];
          const turned = panel >= count;
          index.set(turned ? [first + 16, a, b] : [first + 16, b, a], at);
          edges.set([a, b], edge);
          at += 3;
          edge += 2;
        }
      }
      const geometry = new THREE.BufferGeometry();
      geometry.setAttribute("position", new THREE.BufferAttribute(position, 3));
      geometry.setAttribute("color", new THREE.BufferAttribute(new Float32Array(position.length).fill(0.8), 3));
      geometry.setIndex(new THREE.BufferAttribute(index, 1));
      geometry.computeVertexNormals();
      geometry.computeBoundingSphere();
      const material = new THREE.MeshLambertMaterial({
        vertexColors: true,
        polygonOffset: true,
        polygonOffsetFactor: 1,
        polygonOffsetUnits: 1,
      });
      this.count = count;
      this.shell = this.add(new THREE.Mesh(geometry, material));
      const inside = new THREE.MeshLambertMaterial({ color: 0xaab4ba, side: THREE.BackSide });
      this.add(new THREE.Mesh(geometry, inside));
      const seams = new THREE.BufferGeometry();
      seams.setAttribute("position", geometry.getAttribute("position"));
      seams.setIndex(new THREE.BufferAttribute(edges, 1));
      this.edges = this.add(
        new THREE.LineSegments(seams, new THREE.LineBasicMaterial({ color: 0x1b2227, transparent: true, opacity: 0.16 })),
      );
      geometry.computeBoundingBox();
      this.box = geometry.boundingBox;
    },

    // A line on the shell, on both sides; pushed outward a little so that the shell does not hide it.
    addLine(points, kind) {
      const colour = kind === "water" ? 0x14609b : kind === "web" ? 0x4a555c : 0x1b2227;
      for (const side of [1, -1]) {
        const placed = Float32Array.from(points);
        for (let k = 0; k < placed.length; k += 3) placed[k + 1] = side * (points[k + 1] + 0.03);
        const geometry = new THREE.BufferGeometry();
        geometry.setAttribute("position", new THREE.BufferAttribute(placed, 3));
        const material = new THREE.LineBasicMaterial({ color: colour, transparent: kind === "web", opacity: 0.5 });
        const line = this.add(new THREE.Line(geometry, material));
        line.userData.kind = kind;
      }
    },

    // Colour every panel: a byte each (its class), the colours of the classes and what they mean.
    async paint(classes, colours, labels) {
      await this.ready;
      this.classes = bytes(classes);
      this.classLabels = labels;
      const rgb = colours.map((hex) => new THREE.Color(hex));
      const colour = this.shell.geometry.getAttribute("color");
      const half = this.count * POINTS * 3;
      for (let panel = 0; panel < this.count; panel++) {
        const { r, g, b } = rgb[this.classes[panel]];
        for (let k = panel * POINTS * 3; k < (panel + 1) * POINTS * 3; k += 3) {
          colour.array[k] = colour.array[half + k] = r;
          colour.array[k + 1] = colour.array[half + k + 1] = g;
          colour.array[k + 2] = colour.array[half + k + 2] = b;
        }
      }
      colour.needsUpdate = true;
      this.draw();
    },

    async choose(panel, starboard) {
      await this.ready;
      if (this.chosen) {
        this.scene.remove(this.chosen);
        this.parts.splice(this.parts.indexOf(this.chosen), 1);
        this.chosen.geometry.dispose();
        this.chosen = null;
        this.chosenAt = null;
      }
      if (panel !== null && panel >= 0) {
        const position = this.shell.geometry.getAttribute("position").array;
        const first = (panel + (starboard ? this.count : 0)) * POINTS * 3;
        const ring = this.band(position.subarray(first, first + 16 * 3), starboard ? -0.06 : 0.06, 0.1);
        const material = new THREE.MeshBasicMaterial({ color: 0xd6006c, side: THREE.DoubleSide, depthTest: false });
        this.chosen = this.add(new THREE.Mesh(ring, material));
        this.chosen.renderOrder = 3;
        this.chosenAt = new THREE.Vector3(...position.subarray(first + 48, first + 51));
      }
      this.draw();
    },

    // A band along the inside of a closed ring of points: lines on a graphics card are one pixel wide, a band is not.
    band(ring, outward, width) {
      const middle = [0, 1, 2].map((axis) => {
        let sum = 0;
        for (let k = axis; k < ring.length; k += 3) sum += ring[k];
        return sum / (ring.length / 3);
      });
      const points = [];
      for (let k = 0; k < ring.length; k += 3) {
        const at = [ring[k], ring[k + 1] + outward, ring[k + 2]];
        const to = [middle[0] - ring[k], middle[1] - ring[k + 1], middle[2] - ring[k + 2]];
        const share = Math.min(0.4, width / Math.hypot(...to));
        points.push(...at, at[0] + share * to[0], at[1] + share * to[1], at[2] + share * to[2]);
      }
      const index = [];
      const corners = ring.length / 3;
      for (let k = 0; k < corners; k++) {
        const next = (k + 1) % corners;
        index.push(2 * k, 2 * next, 2 * k + 1, 2 * next, 2 * next + 1, 2 * k + 1);
      }
      const geometry = new THREE.BufferGeometry();
      geometry.setAttribute("position", new THREE.Float32BufferAttribute(points, 3));
      geometry.setIndex(index);
      return geometry;
    },

    // The load patch to scale: rows x columns of points on the shell (flat list, x y z), or null to take it away.
    async patch(points, columns) {
      await this.ready;
      if (this.load_patch) {
        this.scene.remove(this.load_patch);
        this.parts.splice(this.parts.indexOf(this.load_patch), 1);
        this.load_patch = null;
      }
      if (points && points.length) {
        const rows = points.length / 3 / columns;
        const index = [];
        for (let r = 0; r + 1 < rows; r++)
          for (let c = 0; c + 1 < columns; c++) {
            const a = r * columns + c;
            index.push(a, a + 1, a + columns, a + 1, a + columns + 1, a + columns);
          }
        const geometry = new THREE.BufferGeometry();
        geometry.setAttribute("position", new THREE.Float32BufferAttribute(points, 3));
        geometry.setIndex(index);
        const material = new THREE.MeshBasicMaterial({
          color: 0x1b2227,
          transparent: true,
          opacity: 0.55,
          side: THREE.DoubleSide,
          depthTest: false,
        });
        this.load_patch = this.add(new THREE.Mesh(geometry, material));
        this.load_patch.renderOrder = 2;
      }
      this.draw();
    },

    showEdges(on) {
      if (!this.edges) return;
      this.edges.visible = on;
      this.draw();
    },

    // Look from one of the named directions, from just so far that the whole hull is in the picture.
    view(name) {
      if (!this.box) return;
      this.viewed = name;
      const centre = this.box.getCenter(new THREE.Vector3());
      const from = new THREE.Vector3(...(VIEWS[name] ?? VIEWS.bow)).normalize();
      this.camera.position.copy(centre).add(from);
      this.camera.lookAt(centre);
      this.camera.updateMatrixWorld();
      const tall = Math.tan(THREE.MathUtils.degToRad(this.camera.fov / 2)) * 0.94;
      const wide = tall * this.camera.aspect;
      const turned = this.camera.matrixWorldInverse;
      const position = this.shell.geometry.getAttribute("position").array;
      const point = new THREE.Vector3();
      let distance = 0;
      for (let k = 0; k < position.length; k += 3 * POINTS) {
        point.set(position[k], position[k + 1], position[k + 2]).applyMatrix4(turned);
        distance = Math.max(distance, Math.max(Math.abs(point.x) / wide, Math.abs(point.y) / tall) + point.z + 1);
      }
      this.controls.target.copy(centre);
      this.camera.position.copy(centre).addScaledVector(from, distance);
      this.camera.near = distance / 200;
      this.camera.far = distance * 8;
      this.camera.updateProjectionMatrix();
      this.controls.update();
      this.draw();
    },

    fitCanvas() {
      const { clientWidth: width, clientHeight: height } = this.$el;
      if (!width || !height) return;
      this.camera.aspect = width / height;
      this.camera.updateProjectionMatrix();
      this.renderer.setSize(width, height, false);
      if (this.viewed) this.view(this.viewed);
      else this.draw();
    },

    draw() {
      if (this.wanted) return;
      this.wanted = true;
      requestAnimationFrame(() => {
        this.wanted = false;
        this.renderer.render(this.scene, this.camera);
        this.placeMark();
      });
    },

    // A ring round the chosen panel, which may be only a few pixels large.
    placeMark() {
      const mark = this.$refs.mark;
      mark.hidden = !this.chosenAt;
      if (!this.chosenAt) return;
      const at = this.chosenAt.clone().project(this.camera);
      mark.style.left = `${((at.x + 1) / 2) * this.$el.clientWidth}px`;
      mark.style.top = `${((1 - at.y) / 2) * this.$el.clientHeight}px`;
    },

    // The nearest piece of shell under a place on the screen: its panel, its side and the point.
    hit(event) {
      if (!this.shell) return null;
      const box = this.renderer.domElement.getBoundingClientRect();
      const place = new THREE.Vector2(
        (2 * (event.clientX - box.left)) / box.width - 1,
        1 - (2 * (event.clientY - box.top)) / box.height,
      );
      this.ray.setFromCamera(place, this.camera);
      const found = this.ray.intersectObject(this.shell, false)[0];
      if (!found) return null;
      const panel = Math.floor(found.faceIndex / 16);
      return { row: panel % this.count, starboard: panel >= this.count, point: found.point.toArray() };
    },

    released(event) {
      if (!this.pressed) return;
      const moved = Math.hypot(event.clientX - this.pressed[0], event.clientY - this.pressed[1]);
      this.pressed = null;
      const found = moved > DRAG_PX ? null : this.hit(event);
      if (found) this.$emit("pick", found);
    },

    hover(event) {
      if (event.buttons || this.hovering) return;
      this.hovering = true;
      requestAnimationFrame(() => {
        this.hovering = false;
        const found = this.hit(event);
        const tip = this.$refs.tip;
        if (!tip) return;
        tip.hidden = !found;
        if (!found) return;
        const meaning = this.classes ? this.classLabels[this.classes[found.row]] : "";
        tip.textContent = `${this.names[found.row]}${meaning ? ": " + meaning : ""}`;
        const box = this.$el.getBoundingClientRect();
        tip.style.left = `${Math.min(event.clientX - box.left + 12, box.width - 190)}px`;
        tip.style.top = `${Math.max(event.clientY - box.top - 30, 4)}px`;
      });
    },

    key(event) {
      const turn = 0.12;
      const moves = {
        ArrowLeft: [-turn, 0],
        ArrowRight: [turn, 0],
        ArrowUp: [0, -turn],
        ArrowDown: [0, turn],
      };
      const away = new THREE.Vector3().subVectors(this.camera.position, this.controls.target);
      if (moves[event.key]) {
        const ball = new THREE.Spherical().setFromVector3(new THREE.Vector3(away.x, away.z, -away.y));
        ball.theta += moves[event.key][0];
        ball.phi = Math.min(Math.max(ball.phi + moves[event.key][1], 0.05), Math.PI - 0.05);
        const turned = new THREE.Vector3().setFromSpherical(ball);
        away.set(turned.x, -turned.z, turned.y);
      } else if (event.key === "+" || event.key === "=") away.multiplyScalar(0.85);
      else if (event.key === "-") away.multiplyScalar(1.18);
      else if (event.key === "Home") return this.view("bow");
      else return;
      event.preventDefault();
      this.viewed = null;
      this.camera.position.copy(this.controls.target).add(away);
      this.controls.update();
      this.draw();
    },
  },
};
