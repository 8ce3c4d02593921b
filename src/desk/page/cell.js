// A quilted layup's cell cut through from one stitch line to the next, coloured by temperature.

import { between, ramp } from "./look.js";

/** Columns from a stitch line to the middle of the cell. */
const COLUMNS = 90;
const EDGE = 18;

/** The views before the disc, outwards from the stitch line. */
export const pathsOf = (views) => views.filter((view) => view.behind === "disc" && view.cell);

const innermost = (view) => view.parts.filter((part) => part.kind === "ply").at(-1).last;

/** Temperatures of all nodes of a path at a time [°C]. */
function temps(view, t) {
  const n = view.depth_mm.length;
  const [row, share] = between(view.time_s, t);
  const next = Math.min(row + 1, view.time_s.length - 1);
  const all = view.temperature_tenth_C;
  return Array.from({ length: n }, (_, k) => (all[row * n + k] * (1 - share) + all[next * n + k] * share) / 10);
}

/** How far the section reaches: to the middle of the cell [mm]. */
const reach = (views) => Math.max(...views.filter((view) => view.cell).map((view) => view.cell.distance_mm));

/** Draws the section at a time with a mark at the place that is looked at. */
export function drawCell(canvas, views, t, range, looked, stitchWidth) {
  const paths = pathsOf(views);
  if (paths.length < 3) return;
  const width = Math.max(240, canvas.parentElement.clientWidth - 34);
  const height = 200;
  const dense = window.devicePixelRatio || 1;
  canvas.width = Math.round(width * dense);
  canvas.height = Math.round(height * dense);
  canvas.style.width = `${width}px`;
  canvas.style.height = `${height}px`;
  const pen = canvas.getContext("2d");
  pen.scale(dense, dense);
  const upwards = canvas.dataset.upwards === "true";
  const last = innermost(paths[0]);
  const warm = paths.map((view) => temps(view, t));
  const far = reach(views);
  const deep = Math.max(...paths.map((view) => view.depth_mm[last]));
  const scale = (height - 2 * EDGE) / deep;
  const y = (mm) => (upwards ? height - EDGE - mm * scale : EDGE + mm * scale);
  const half = width / 2;
  const between_ = paths.slice(1).map((view) => view.cell.distance_mm);
  for (let c = 0; c < COLUMNS; c += 1) {
    const mm = ((c + 0.5) / COLUMNS) * far;
    // under the stitch line all is alike; beyond it the points over the cell are joined by straight lines
    let [i, j, share] = [0, 0, 0];
    if (mm > stitchWidth / 2) {
      const [k, along] = between(between_, mm);
      [i, j, share] = [k + 1, Math.min(k + 2, paths.length - 1), along];
    }
    const mix = (list) => list(i) * (1 - share) + list(j) * share;
    const [from, to] = [(c / COLUMNS) * half, ((c + 1) / COLUMNS) * half];
    for (const part of paths[0].parts) {
      if (part.last > last) continue;
      pen.globalAlpha = part.kind === "ply" ? 1 : 0.4;
      for (let k = part.first; k < part.last; k += 1) {
        const heat = (mix((p) => warm[p][k]) + mix((p) => warm[p][k + 1])) / 2;
        pen.fillStyle = ramp((heat - range[0]) / (range[1] - range[0]));
        const ends = [k, k + 1].map((node) => y(mix((p) => paths[p].depth_mm[node]))).sort((a, b) => a - b);
        pen.fillRect(from, ends[0], to - from + 0.5, ends[1] - ends[0] + 0.3);
        pen.fillRect(width - to - 0.5, ends[0], to - from + 0.5, ends[1] - ends[0] + 0.3);
      }
    }
  }
  pen.globalAlpha = 1;
  const ink = getComputedStyle(canvas).color;
  pen.strokeStyle = ink;
  pen.fillStyle = ink;
  pen.font = "12px system-ui, sans-serif";
  const x = (looked.cell.distance_mm / far) * half;
  pen.setLineDash([5, 3]);
  pen.beginPath();
  pen.moveTo(Math.max(1, x), 4);
  pen.lineTo(Math.max(1, x), height - 4);
  pen.stroke();
  pen.textAlign = "center";
  pen.fillText("middle of the cell", half, upwards ? 12 : height - 5);
}

/** The path nearest to a place across the picture, 0 to 1. */
export function nearest(views, chosen, share) {
  const mm = reach(views) * (1 - Math.abs(2 * share - 1));
  const apart = chosen.map((view) => Math.abs(view.cell.distance_mm - mm));
  return apart.indexOf(Math.min(...apart));
}
