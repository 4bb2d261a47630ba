/** Width of a picture at most, px: enough for a page (own). */
const WIDTH = 1200;

/** What a canvas shows, with a ring and a name round its middle, as JPEG in a data URL; null where the browser cannot draw it. */
export function ringed(canvas: HTMLCanvasElement, mark: string): string | null {
  const scale = Math.min(1, WIDTH / canvas.width);
  const copy = document.createElement('canvas');
  copy.width = Math.round(canvas.width * scale);
  copy.height = Math.round(canvas.height * scale);
  const pen = copy.getContext('2d');
  if (!pen) return null;
  pen.drawImage(canvas, 0, 0, copy.width, copy.height);
  const [x, y, radius] = [copy.width / 2, copy.height / 2, copy.width / 40];
  // White under black shows on any ground.
  for (const [colour, width] of [
    ['#fff', 7],
    ['#000', 3],
  ] as const) {
    pen.strokeStyle = colour;
    pen.lineWidth = width;
    pen.beginPath();
    pen.arc(x, y, radius, 0, 2 * Math.PI);
    pen.stroke();
  }
  pen.font = `bold ${Math.round(radius)}px sans-serif`;
  pen.lineWidth = 5;
  pen.strokeStyle = '#fff';
  pen.strokeText(mark, x + radius * 1.2, y - radius * 0.6);
  pen.fillStyle = '#000';
  pen.fillText(mark, x + radius * 1.2, y - radius * 0.6);
  return copy.toDataURL('image/jpeg', 0.85);
}
