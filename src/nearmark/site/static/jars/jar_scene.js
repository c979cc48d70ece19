/* The jar on a table with a cup beside it, drawn when something changed and not otherwise. */
import * as THREE from "../vendor/three/three.module.min.js";

const CUP = { rim: 4, floor: 2.8, height: 9, gap: 2.2 };
const SECTORS = 16;
const SEEN_PAST = Math.cos((112 * Math.PI) / 180);
const LIGHT = "vec3(-0.40, 0.66, 0.63)";

const LIT = `
  vec3 n = normalize(normalMatrix * mat3(turned) * normal);
  float lit = max(0.0, dot(n, normalize(${LIGHT})));
  light = ambient + 0.58 * lit + 0.10 * pow(lit, 20.0);`;
const PIECE_VERTEX = `
  const float ambient = 0.46;  attribute float tone; varying float light; uniform float lift; uniform float shrink;
  void main() {
    mat4 turned = instanceMatrix;
    ${LIT}
    light *= tone;
    vec4 p = turned * vec4(position * shrink, 1.0);
    p.z += lift;
    gl_Position = projectionMatrix * modelViewMatrix * p;
  }`;
const PLAIN_VERTEX = `
  const float ambient = 0.6;  varying float light;
  void main() { mat4 turned = mat4(1.0); vec4 seen = modelViewMatrix * vec4(position, 1.0); ${LIT.replace("float lit", "n = dot(n, seen.xyz) > 0.0 ? -n : n; float lit")} gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }`;
const FRAGMENT = `uniform vec3 colour; varying float light; void main() { gl_FragColor = vec4(colour * light, 1.0); }`;
const GLASS_VERTEX = `
  varying float rim;
  void main() {
    vec4 p = modelViewMatrix * vec4(position, 1.0);
    rim = 1.0 - abs(dot(normalize(normalMatrix * normal), normalize(-p.xyz)));
    gl_Position = projectionMatrix * p;
  }`;
const GLASS_FRAGMENT = `uniform vec3 colour; varying float rim; void main() { gl_FragColor = vec4(colour, 0.05 + 0.55 * pow(rim, 4.0)); }`;

const rgb = (text) => new THREE.Color().setStyle(text, THREE.LinearSRGBColorSpace);
const lit = (colour) =>
  new THREE.ShaderMaterial({
    vertexShader: PLAIN_VERTEX,
    fragmentShader: FRAGMENT,
    uniforms: { colour: { value: colour } },
    side: THREE.DoubleSide,
  });

export class JarScene {
  constructor(canvas, jar, stance) {
    this.canvas = canvas;
    this.jar = jar;
    this.stance = stance;
    this.renderer = new THREE.WebGLRenderer({
      canvas,
      antialias: true,
      powerPreference: "low-power",
    });
    this.renderer.outputColorSpace = THREE.LinearSRGBColorSpace;
    this.scene = new THREE.Scene();
    this.camera = new THREE.PerspectiveCamera(30, 1, 1, 600);
    this.table = new THREE.Group();
    this.turning = new THREE.Group();
    this.upright = new THREE.Group();
    this.upright.rotation.x = -Math.PI / 2;
    this.turning.add(this.upright);
    this.scene.add(this.table, this.turning);
    this.sharpness = 1;
    this.frames = 0;
    this.isDue = false;
    this.settling = 0;
    this.movedAt = 0;
    this.geometries = jar.meshes.map((mesh) => {
      const geometry = new THREE.BufferGeometry();
      geometry.setAttribute("position", new THREE.BufferAttribute(mesh.points, 3));
      geometry.setAttribute("normal", new THREE.BufferAttribute(mesh.normals, 3));
      geometry.setIndex(new THREE.BufferAttribute(mesh.faces, 1));
      return geometry;
    });
    this.layers = null;
    this.off = 0;
    this.shell = this.sectors(jar);
    this.addVessel();
    this.addTable();
    this.paint();
    this.fit();
  }

  /* Radius of the vessel at a height, or half its sides. */
  wallAt(z) {
    const v = this.jar.head;
    return v.width / 2 + (((v.top - v.width) / 2) * z) / v.height;
  }

  inside(x, y, z) {
    const v = this.jar.head;
    return v.form === "box"
      ? Math.min(v.width / 2 - Math.abs(x), v.depth / 2 - Math.abs(y))
      : this.wallAt(z) - Math.hypot(x, y);
  }

  material() {
    return new THREE.ShaderMaterial({
      vertexShader: PIECE_VERTEX,
      fragmentShader: FRAGMENT,
      uniforms: {
        colour: { value: rgb(this.jar.head.colour) },
        lift: { value: 0 },
        shrink: { value: 1 },
      },
    });
  }

  /* One instanced mesh of the pieces with these numbers. */
  batch(jar, which, material, top) {
    const mesh = new THREE.InstancedMesh(this.geometries[0], material, which.length);
    const matrix = new THREE.Matrix4(),
      at = new THREE.Vector3(),
      turn = new THREE.Quaternion(),
      scale = new THREE.Vector3();
    const tones = new Float32Array(which.length),
      width = jar.head.piece;
    const deepOf = (i) => {
      const [x, y, z] = jar.centres.subarray(3 * i, 3 * i + 3);
      return Math.max(0, Math.min(this.inside(x, y, z), top - z) / width - 0.6);
    };
    // The outermost first: while the jar moves, the others can be left out.
    const depths = new Map(which.map((i) => [i, deepOf(i)]));
    which.sort((a, b) => depths.get(a) - depths.get(b));
    mesh.userData.outer = which.findIndex((i) => depths.get(i) > 0.75);
    if (mesh.userData.outer < 0) mesh.userData.outer = which.length;
    mesh.userData.all = which.length;
    which.forEach((i, k) => {
      at.fromArray(jar.centres, 3 * i);
      turn.fromArray(jar.turns, 4 * i);
      scale.setScalar(jar.sizes[i] * width);
      mesh.setMatrixAt(k, matrix.compose(at, turn, scale));
      tones[k] = (1 + 0.16 * (((i * 7919) % 97) / 97 - 0.5)) / (1 + 0.42 * depths.get(i));
    });
    mesh.frustumCulled = false;
    const tone = new THREE.InstancedBufferAttribute(tones, 1);
    mesh.userData.levels = this.geometries.map((shape) => {
      const geometry = new THREE.BufferGeometry();
      geometry.setAttribute("position", shape.attributes.position);
      geometry.setAttribute("normal", shape.attributes.normal);
      geometry.setAttribute("tone", tone);
      return geometry.setIndex(shape.index);
    });
    this.upright.add(mesh);
    return mesh;
  }

  /* The shell by the way it faces: what is turned away need not be drawn; the top always is. */
  sectors(jar) {
    const groups = Array.from({ length: SECTORS + 1 }, () => []);
    const { fill, piece } = jar.head;
    for (let i = 0; i < jar.sizes.length; i++) {
      if (jar.sizes[i] === 0) continue;
      const [x, y, z] = jar.centres.subarray(3 * i, 3 * i + 3);
      const aside = Math.floor((Math.atan2(y, x) / (2 * Math.PI) + 1) * SECTORS) % SECTORS;
      groups[z > fill - 2.5 * piece ? SECTORS : aside].push(i);
    }
    const material = this.material();
    return groups.map((which, k) => {
      const mesh = this.batch(jar, which, material, fill + piece);
      const angle = ((k + 0.5) / SECTORS) * 2 * Math.PI;
      mesh.userData.faces = k < SECTORS ? [Math.cos(angle), Math.sin(angle)] : null;
      return mesh;
    });
  }

  /* The whole jar, layer by layer; inner pieces are drawn only near the present top. */
  setWhole(whole) {
    let from = 0;
    this.layers = whole.head.layers.map((count) => {
      const wall = [],
        inner = [];
      for (let i = from; i < from + count; i++) {
        const near =
          this.inside(...whole.centres.subarray(3 * i, 3 * i + 3)) < 1.6 * whole.head.piece;
        (near ? wall : inner).push(i);
      }
      const top = Math.max(
        ...Array.from({ length: count }, (_, k) => whole.centres[3 * (from + k) + 2]),
        0,
      );
      from += count;
      const material = this.material();
      return {
        count,
        material,
        wall: this.batch(whole, wall, material, top + whole.head.piece),
        inner: this.batch(whole, inner, material, top + whole.head.piece),
      };
    });
    this.showLayers(0);
  }

  /* With the first `off` layers taken away; `flying` in 0..1 is how far the next one is lifted. */
  showLayers(off, flying = 0) {
    this.off = off;
    const isApart = off > 0 || flying > 0;
    this.shell.forEach((mesh) => {
      mesh.userData.hidden = isApart;
    });
    this.sink(isApart ? 1 - (off + 3) / this.layers.length : 1);
    this.layers?.forEach((layer, k) => {
      layer.wall.visible = isApart && k >= off;
      layer.inner.visible = isApart && k >= off && k < off + 3;
      const mine = k === off ? flying : 0;
      layer.material.uniforms.lift.value = mine * this.jar.head.height * 0.45;
      layer.material.uniforms.shrink.value = 1 - (0.9 * Math.max(0, mine - 0.6)) / 0.4;
    });
    this.draw();
  }

  /* The dark inside goes down with the layers. */
  sink(share) {
    const { height } = this.core.geometry.parameters,
      { low } = this.core.userData;
    this.core.visible = share > 0;
    if (share > 0) {
      this.core.scale.y = share;
      this.core.position.y = low + (height * share) / 2;
    }
  }

  addVessel() {
    const v = this.jar.head,
      wall = 0.12;
    this.glass = new THREE.ShaderMaterial({
      vertexShader: GLASS_VERTEX,
      fragmentShader: GLASS_FRAGMENT,
      uniforms: { colour: { value: rgb("#667780") } },
      transparent: true,
      depthWrite: false,
      side: THREE.DoubleSide,
    });
    this.line = new THREE.MeshBasicMaterial({ color: 0x667780 });
    this.dark = new THREE.MeshBasicMaterial({ color: rgb(v.colour).multiplyScalar(0.2) });
    const inset = 1.25 * v.piece,
      high = Math.max(0.1, v.fill - 1.3 * inset);
    if (v.form === "box") {
      const [w, d] = [v.width + 2 * wall, v.depth + 2 * wall];
      for (const [size, x, z, turn] of [
        [w, 0, d / 2, 0],
        [w, 0, -d / 2, 0],
        [d, w / 2, 0, Math.PI / 2],
        [d, -w / 2, 0, Math.PI / 2],
      ]) {
        const pane = new THREE.Mesh(new THREE.PlaneGeometry(size, v.height), this.glass);
        pane.position.set(x, v.height / 2, z);
        pane.rotation.y = turn;
        pane.renderOrder = 5;
        this.turning.add(pane);
      }
      const edges = new THREE.LineSegments(
        new THREE.EdgesGeometry(new THREE.BoxGeometry(w, v.height, d)),
        new THREE.LineBasicMaterial({ color: 0x667780 }),
      );
      edges.position.y = v.height / 2;
      this.edges = edges;
      this.turning.add(edges, this.rimOfBox(w, d, v.height));
      this.core = new THREE.Mesh(
        new THREE.BoxGeometry(
          Math.max(0.1, v.width - 2 * inset),
          high - inset * 0.5,
          Math.max(0.1, v.depth - 2 * inset),
        ),
        this.dark,
      );
      this.core.position.y = high / 2;
    } else {
      const outline = [];
      for (let k = 0; k <= 8; k++) {
        const t = ((k / 8) * Math.PI) / 2;
        outline.push(
          new THREE.Vector2(
            Math.max(0, v.width / 2 + wall - v.edge * (1 - Math.sin(t))),
            v.edge * (1 - Math.cos(t)),
          ),
        );
      }
      outline.push(new THREE.Vector2(v.top / 2 + wall, v.height));
      const body = new THREE.Mesh(new THREE.LatheGeometry(outline, 56), this.glass);
      body.renderOrder = 5;
      const rim = new THREE.Mesh(new THREE.TorusGeometry(v.top / 2 + wall, 0.11, 6, 64), this.line);
      rim.rotation.x = Math.PI / 2;
      rim.position.y = v.height;
      const foot = new THREE.Mesh(
        new THREE.TorusGeometry(v.width / 2 + wall - v.edge, 0.07, 6, 64),
        this.line,
      );
      foot.rotation.x = Math.PI / 2;
      foot.position.y = 0.07;
      this.turning.add(body, rim, foot);
      const low = Math.max(0.05, this.wallAt(0) - inset),
        up = Math.max(0.05, this.wallAt(high) - inset);
      const from = Math.max(inset * 0.5, v.edge * 0.6);
      this.core = new THREE.Mesh(
        new THREE.CylinderGeometry(up, low, Math.max(0.05, high - from), 32),
        this.dark,
      );
      this.core.position.y = (high + from) / 2;
    }
    this.core.userData.low = this.core.position.y - this.core.geometry.parameters.height / 2;
    this.turning.add(this.core);
    this.panels = [];
  }

  rimOfBox(w, d, y) {
    const rim = new THREE.Group();
    for (const [sx, sz, x, z] of [
      [w, 0.16, 0, d / 2],
      [w, 0.16, 0, -d / 2],
      [0.16, d, w / 2, 0],
      [0.16, d, -w / 2, 0],
    ]) {
      const bar = new THREE.Mesh(new THREE.BoxGeometry(sx, 0.16, sz), this.line);
      bar.position.set(x, y, z);
      rim.add(bar);
    }
    return rim;
  }

  /* Card that hides one or two sides and turns with the jar. */
  hide(n) {
    this.panels.forEach((panel) => this.turning.remove(panel));
    const v = this.jar.head,
      card = this.card;
    this.panels = Array.from({ length: n }, (_, k) => {
      let panel;
      if (v.form === "box") {
        panel = new THREE.Mesh(
          new THREE.PlaneGeometry((k ? v.depth : v.width) + 0.8, v.height + 0.3),
          card,
        );
        panel.position.set(k ? -v.width / 2 - 0.4 : 0, v.height / 2, k ? 0 : -v.depth / 2 - 0.4);
        panel.rotation.y = k ? Math.PI / 2 : 0;
      } else {
        panel = new THREE.Mesh(
          new THREE.CylinderGeometry(
            v.top / 2 + 0.45,
            v.width / 2 + 0.45,
            v.height,
            24,
            1,
            true,
            Math.PI * (1 - k / 2) - Math.PI / 4,
            Math.PI / 2,
          ),
          card,
        );
        panel.position.y = v.height / 2;
      }
      this.turning.add(panel);
      return panel;
    });
    this.draw();
  }

  addTable() {
    const v = this.jar.head,
      half = Math.max(v.width, v.form === "box" ? Math.hypot(v.width, v.depth) : v.top) / 2;
    this.cupX = half + CUP.gap + CUP.rim;
    this.ground = new THREE.MeshBasicMaterial();
    const board = new THREE.Mesh(new THREE.CircleGeometry(90, 64), this.ground);
    board.rotation.x = -Math.PI / 2;
    board.position.y = -0.02;
    this.cupPaint = lit(rgb("#dfe2df"));
    const outline = [
      [0, 0.3],
      [CUP.floor - 0.2, 0.3],
      [CUP.rim - 0.2, CUP.height],
      [CUP.rim, CUP.height],
      [CUP.rim + 0.1, CUP.height - 0.3],
      [CUP.rim - 0.1, CUP.height - 0.4],
      [CUP.floor, 0],
      [0, 0],
    ].map(([x, y]) => new THREE.Vector2(x, y));
    const cup = new THREE.Mesh(new THREE.LatheGeometry(outline, 48), this.cupPaint);
    cup.position.x = this.cupX;
    this.card = lit(rgb("#c9b48f"));
    this.table.add(board, cup, this.shadow(0, half), this.shadow(this.cupX, CUP.floor));
  }

  shadow(x, radius) {
    const canvas = document.createElement("canvas");
    canvas.width = canvas.height = 128;
    const pen = canvas.getContext("2d"),
      fade = pen.createRadialGradient(64, 64, 0, 64, 64, 64);
    for (const [stop, alpha] of [
      [0, 0.5],
      [0.55, 0.42],
      [0.72, 0.16],
      [1, 0],
    ])
      fade.addColorStop(stop, `rgba(20,28,32,${alpha})`);
    pen.fillStyle = fade;
    pen.fillRect(0, 0, 128, 128);
    const spot = new THREE.Mesh(
      new THREE.PlaneGeometry(3.3 * radius, 3.3 * radius),
      new THREE.MeshBasicMaterial({
        map: new THREE.CanvasTexture(canvas),
        transparent: true,
        depthWrite: false,
      }),
    );
    spot.rotation.x = -Math.PI / 2;
    spot.position.set(x, 0, 0);
    spot.renderOrder = 1;
    return spot;
  }

  /* Squares over the surface, four pieces wide; card colours only, so that the pieces stay what they are. */
  grid(isOn) {
    if (this.lines) {
      this.upright.remove(this.lines);
      this.lines = null;
    }
    if (isOn) {
      const v = this.jar.head,
        step = 4 * v.piece,
        points = [],
        z = v.fill + 0.7 * v.piece;
      const box = v.form === "box",
        rx = box ? v.width / 2 : this.wallAt(v.fill),
        ry = box ? v.depth / 2 : rx;
      const span = (a, ra, rb) => (box ? rb : Math.sqrt(Math.max(0, ra * ra - a * a)));
      for (let a = -Math.floor(rx / step) * step; a <= rx; a += step)
        points.push(a, -span(a, rx, ry), z, a, span(a, rx, ry), z);
      for (let b = -Math.floor(ry / step) * step; b <= ry; b += step)
        points.push(-span(b, ry, rx), b, z, span(b, ry, rx), b, z);
      const geometry = new THREE.BufferGeometry();
      geometry.setAttribute("position", new THREE.BufferAttribute(new Float32Array(points), 3));
      this.lines = new THREE.LineSegments(
        geometry,
        new THREE.LineBasicMaterial({ color: 0xffffff, depthTest: false }),
      );
      this.lines.renderOrder = 9;
      this.upright.add(this.lines);
    }
    this.draw();
  }

  /* The page's own colours, by day and by night. */
  paint() {
    const style = getComputedStyle(this.canvas);
    const token = (name) => rgb(style.getPropertyValue(name).trim());
    const isNight = matchMedia("(prefers-color-scheme: dark)").matches;
    this.scene.background = token("--white");
    this.ground.color = token("--band").lerp(token("--paper"), 0.45);
    this.cupPaint.uniforms.colour.value = rgb(isNight ? "#b9bfbd" : "#e6e8e4");
    this.line.color = this.glass.uniforms.colour.value = token("--ink-soft");
    if (this.edges) this.edges.material.color = token("--ink-soft");
    this.draw();
  }

  fit() {
    const { clientWidth: wide, clientHeight: high } = this.canvas.parentElement;
    if (!wide || !high) return;
    this.wide = wide;
    this.high = high;
    this.camera.aspect = wide / high;
    this.camera.updateProjectionMatrix();
    const v = this.jar.head,
      half = this.cupX - CUP.gap - CUP.rim;
    const halfWide = (half + this.cupX + CUP.rim) / 2 + 0.8,
      halfHigh = Math.max(v.height, CUP.height) / 2 + 2.2;
    const slope = Math.tan((15 * Math.PI) / 180);
    this.room = {
      distance: Math.max(halfWide / (slope * this.camera.aspect), halfHigh / slope) + half,
      middleX: (this.cupX + CUP.rim - half) / 2,
      height: v.height,
    };
    this.draw();
  }

  draw(isMoving = false) {
    if (isMoving) this.movedAt = performance.now();
    this.isMoving = isMoving || performance.now() - this.movedAt < 140;
    if (this.isDue) return;
    this.isDue = true;
    requestAnimationFrame((now) => {
      this.isDue = false;
      this.drawNow(now);
    });
  }

  drawNow() {
    if (!this.room) return;
    const begun = performance.now();
    const eye = this.stance.eye(this.room);
    this.camera.position.fromArray(eye.at);
    this.camera.lookAt(...eye.to);
    this.turning.rotation.y = (this.stance.turn * Math.PI) / 180;
    const ratio = Math.min(window.devicePixelRatio || 1, 2);
    this.renderer.setPixelRatio(this.isMoving ? ratio * this.sharpness : ratio);
    this.renderer.setSize(this.wide, this.high, false);
    this.choose(ratio);
    this.renderer.render(this.scene, this.camera);
    if (this.isMoving || this.frames === 0) {
      // One pixel read back: only then is the picture really done, and its time known.
      const gl = this.renderer.getContext();
      gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
      this.frameMs = performance.now() - begun;
      this.sharpness = Math.min(
        1,
        Math.max(
          0.35,
          this.sharpness *
            (this.frameMs > 150 ? 0.6 : this.frameMs > 45 ? 0.82 : this.frameMs < 22 ? 1.15 : 1),
        ),
      );
      clearTimeout(this.settling);
      if (this.isMoving)
        this.settling = setTimeout(
          () => {
            this.isMoving = false;
            this.movedAt = 0;
            this.draw();
          },
          this.sharpness < 0.9 ? 360 : 160,
        );
    }
    this.frames += 1;
    Object.assign(this.canvas.dataset, {
      frames: this.frames,
      eyeCm: eye.at[1].toFixed(2),
      turn: this.stance.turn.toFixed(1),
      head: this.stance.head.toFixed(1),
      triangles: this.renderer.info.render.triangles,
      frameMs: (this.frameMs || 0).toFixed(1),
    });
    this.onDrawn?.();
  }

  /* Coarser pieces the smaller they look and while the jar moves; none that are turned away. */
  choose(ratio) {
    const eye = this.camera.position,
      v = this.jar.head;
    const far = eye.distanceTo(new THREE.Vector3(0, v.height / 2, 0));
    const pixels = ((v.piece / far) * this.high * ratio) / (2 * Math.tan((15 * Math.PI) / 180));
    const isHurried = this.isMoving && this.sharpness < 0.9;
    const level = (pixels > 40 ? 3 : pixels > 15 ? 2 : 1) - (isHurried ? 1 : 0);
    const turn = this.turning.rotation.y,
      length = Math.hypot(eye.x, eye.z) || 1;
    const [ex, ez] = [eye.x / length, eye.z / length];
    // Into the jar's own frame, whose y goes away from the eye.
    const look = [
      Math.cos(turn) * ex - Math.sin(turn) * ez,
      -(Math.sin(turn) * ex + Math.cos(turn) * ez),
    ];
    const apart = this.layers ? this.layers.flatMap((l) => [l.wall, l.inner]) : [];
    for (const mesh of [...this.shell, ...apart]) {
      const { faces, hidden } = mesh.userData;
      if (this.shell.includes(mesh))
        mesh.visible =
          !hidden &&
          mesh.userData.all > 0 &&
          (!faces || faces[0] * look[0] + faces[1] * look[1] > SEEN_PAST);
      mesh.geometry = mesh.userData.levels[level];
      mesh.count = isHurried ? mesh.userData.outer : mesh.userData.all;
    }
  }
}
