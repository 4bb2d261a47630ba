import { useEffect, useRef } from 'react';
import type { PartView } from '../../../shared/protocol/http.ts';
import { type PoseShape, poseShape } from '../../state/poseShape.ts';
import { useJob } from '../job/context.ts';

/** CSS pixels shown at most (`.pose-picture`), and how many are drawn for each: sharp where the screen has two to one. */
const [WIDTH, HEIGHT, SHARP] = [112, 84, 2];

interface PictureProps {
  readonly part: PartView;
  readonly turn: readonly [number, number, number];
  readonly overhang: number;
}

/** A part as it would stand on the plate. A comfort beside the figures: when it cannot be drawn the figures still stand. */
export function PosePicture({ part, turn, overhang }: PictureProps): React.ReactNode {
  const { parts } = useJob();
  const canvas = useRef<HTMLCanvasElement>(null);
  const [x, y, z] = turn;
  useEffect(() => {
    let left = false;
    // Each picture in a turn of its own: a table of large parts must not hold up the page.
    const draw = async (): Promise<void> => {
      const mesh = await parts.mesh(part);
      await new Promise((resolve) => setTimeout(resolve));
      if (left || !canvas.current) return;
      const size = { width: WIDTH * SHARP, height: HEIGHT * SHARP };
      paint(canvas.current, poseShape(mesh, { turn: [x, y, z], overhang, ...size }));
    };
    draw().catch(() => undefined);
    return () => {
      left = true;
    };
  }, [parts, part, x, y, z, overhang]);
  return (
    <canvas
      ref={canvas}
      className="pose-picture"
      width={WIDTH * SHARP}
      height={HEIGHT * SHARP}
      role="img"
      aria-label="How it stands on the plate"
    />
  );
}

function paint(canvas: HTMLCanvasElement, { shade, support, plate }: PoseShape): void {
  const context = canvas.getContext('2d');
  if (!context) return;
  const colour = colours(context);
  const [metal, needs] = [colour('--scene-metal'), colour('--close')];
  const image = context.createImageData(canvas.width, canvas.height);
  for (let i = 0; i < shade.length; i++) {
    const bright = shade[i] ?? 0;
    if (bright === 0) continue;
    const from = support[i] ? needs : metal;
    for (let k = 0; k < 3; k++) image.data[4 * i + k] = Math.min(255, ((from[k] ?? 0) * bright) / 220);
    image.data[4 * i + 3] = 255;
  }
  context.putImageData(image, 0, 0);
  context.strokeStyle = getComputedStyle(canvas).color;
  context.lineWidth = SHARP;
  context.beginPath();
  for (let i = 0; i < plate.length; i += 2) context.lineTo(plate[i] ?? 0, plate[i + 1] ?? 0);
  context.closePath();
  context.stroke();
}

/** Reads the theme's colours as numbers, by painting one pixel: they may be written in any way CSS knows. */
function colours(context: CanvasRenderingContext2D): (name: string) => readonly number[] {
  const style = getComputedStyle(document.documentElement);
  return (name) => {
    context.fillStyle = style.getPropertyValue(name).trim() || '#888888';
    context.fillRect(0, 0, 1, 1);
    const [r = 0, g = 0, b = 0] = context.getImageData(0, 0, 1, 1).data;
    context.clearRect(0, 0, 1, 1);
    return [r, g, b];
  };
}
