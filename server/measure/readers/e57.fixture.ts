/** Sum of a page, bit by bit: another way than the reader's. */
function sum(bytes: Buffer): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let k = 0; k < 8; k++) crc = crc & 1 ? (crc >>> 1) ^ 0x82f63b78 : crc >>> 1;
  }
  return ~crc >>> 0;
}

/** How one scan of a test is written. Coordinates in metres. */
export interface E57Part {
  readonly points: readonly number[];
  readonly as?: 'double' | 'single' | 'scaled' | 'integer';
  /** Metres a step of scaled numbers; the offset is 1 m. */
  readonly scale?: number;
  readonly spherical?: boolean;
  /** States beside each point. */
  readonly invalid?: readonly number[];
  readonly pose?: string;
  /** Records in a packet. */
  readonly packet?: number;
  /** What the XML says instead of the real number of records. */
  readonly claim?: number;
  /** Attributes of the coordinates instead of the right ones. */
  readonly prototype?: string;
}

/** What to do with the parts of the file before its pages are summed. */
export interface E57Damage {
  readonly xml?: (xml: string) => string;
  readonly header?: (header: Buffer) => void;
}

const PAGE = 1024;
const DATA = 1020;
const LEAST = -2_000_000_000;
const MOST = 2_000_000_000;
const physical = (logical: number): number => Math.floor(logical / DATA) * PAGE + (logical % DATA);

/** Packs whole numbers of so many bits, least bit first, one after another. */
class Bits {
  private value = 0n;
  private held = 0n;
  readonly bytes: number[] = [];

  put(x: bigint, bits: number): void {
    this.value |= x << this.held;
    this.held += BigInt(bits);
    while (this.held >= 8n) this.flush();
  }

  end(): Buffer {
    if (this.held > 0n) this.flush();
    this.held = 0n;
    return Buffer.from(this.bytes.splice(0));
  }

  /** Whole bytes so far; a part of a byte waits for the next packet. */
  whole(): Buffer {
    return Buffer.from(this.bytes.splice(0));
  }

  private flush(): void {
    this.bytes.push(Number(this.value & 255n));
    this.value >>= 8n;
    this.held -= 8n;
  }
}

/** An E57 file with these scans. */
export function e57File(parts: readonly E57Part[], damage: E57Damage = {}): Buffer {
  const stream: Buffer[] = [Buffer.alloc(48)];
  let at = 48;
  const put = (bytes: Buffer): number => {
    const place = at;
    stream.push(bytes);
    at += bytes.length;
    return place;
  };
  const scans = parts.map((part) => ({ part, place: put(section(part, at)) }));
  const text = xmlOf(scans.map(({ part, place }) => scanXml(part, physical(place))));
  const xml = Buffer.from(damage.xml ? damage.xml(text) : text);
  const xmlAt = physical(put(xml));
  const pages = Math.ceil(at / DATA);
  const header = stream[0] ?? Buffer.alloc(48);
  header.write('ASTM-E57', 'latin1');
  header.writeUInt32LE(1, 8);
  for (const [i, value] of [pages * PAGE, xmlAt, xml.length, PAGE].entries())
    header.writeBigUInt64LE(BigInt(value), 16 + 8 * i);
  damage.header?.(header);
  return paged(Buffer.concat([...stream, Buffer.alloc(pages * DATA - at)]), pages);
}

function paged(logical: Buffer, pages: number): Buffer {
  const file = Buffer.alloc(pages * PAGE);
  for (let i = 0; i < pages; i++) {
    const page = logical.subarray(i * DATA, (i + 1) * DATA);
    page.copy(file, i * PAGE);
    file.writeUInt32BE(sum(page), i * PAGE + DATA);
  }
  return file;
}

function section(part: E57Part, at: number): Buffer {
  const count = part.points.length / 3;
  const per = part.packet ?? 500;
  const packets: Buffer[] = [];
  const streams = [0, 1, 2].map(() => new Bits());
  for (let first = 0; first < count; first += per) {
    const last = Math.min(count, first + per);
    const bytes = streams.map((bits, k) => coordinateBytes(part, { bits, k, first, last, end: last === count }));
    if (part.invalid) bytes.push(Buffer.from(part.invalid.slice(first, last)));
    packets.push(packetOf(bytes));
    // Filling and an index between the packets, as writers may leave them.
    if (first === 0)
      packets.push(Buffer.from([2, 0, 7, 0, 0, 0, 0, 0]), Buffer.from([0, 0, 15, 0, ...Array(12).fill(0)]));
  }
  const head = Buffer.alloc(32);
  head.writeUInt8(1, 0);
  head.writeBigUInt64LE(BigInt(32 + packets.reduce((n, p) => n + p.length, 0)), 8);
  head.writeBigUInt64LE(BigInt(physical(at + 32)), 16);
  return Buffer.concat([head, ...packets]);
}

interface Run {
  readonly bits: Bits;
  readonly k: number;
  readonly first: number;
  readonly last: number;
  readonly end: boolean;
}

function coordinateBytes(part: E57Part, { bits, k, first, last, end }: Run): Buffer {
  const { as = 'double', scale = 1e-5 } = part;
  const values = Array.from({ length: last - first }, (_, i) => part.points[3 * (first + i) + k] ?? 0);
  if (as === 'double')
    return Buffer.concat(
      values.map((x) => {
        const b = Buffer.alloc(8);
        b.writeDoubleLE(x);
        return b;
      }),
    );
  if (as === 'single')
    return Buffer.concat(
      values.map((x) => {
        const b = Buffer.alloc(4);
        b.writeFloatLE(x);
        return b;
      }),
    );
  for (const x of values)
    if (as === 'integer') bits.put(BigInt(Math.round(x)) + 1000n, 11);
    else bits.put(BigInt(Math.round((x - 1) / scale)) - BigInt(LEAST), 32);
  return end ? bits.end() : bits.whole();
}

function packetOf(bytes: readonly Buffer[]): Buffer {
  const head = Buffer.alloc(6 + 2 * bytes.length);
  const raw = head.length + bytes.reduce((n, b) => n + b.length, 0);
  const length = Math.ceil(raw / 4) * 4;
  head.writeUInt8(1, 0);
  head.writeUInt16LE(length - 1, 2);
  head.writeUInt16LE(bytes.length, 4);
  for (const [i, b] of bytes.entries()) head.writeUInt16LE(b.length, 6 + 2 * i);
  return Buffer.concat([head, ...bytes, Buffer.alloc(length - raw)]);
}

function scanXml(part: E57Part, place: number): string {
  const types = {
    double: 'type="Float"',
    single: 'type="Float" precision="single"',
    scaled: `type="ScaledInteger" minimum="${LEAST}" maximum="${MOST}" scale="${part.scale ?? 1e-5}" offset="1"`,
    integer: 'type="Integer" minimum="-1000" maximum="1000"',
  };
  const type = part.prototype ?? types[part.as ?? 'double'];
  const names = part.spherical
    ? ['sphericalRange', 'sphericalAzimuth', 'sphericalElevation']
    : ['cartesianX', 'cartesianY', 'cartesianZ'];
  const fields = names.map((name) => `<${name} ${type}/>`);
  if (part.invalid)
    fields.push(
      `<${part.spherical ? 'spherical' : 'cartesian'}InvalidState type="Integer" minimum="0" maximum="255"/>`,
    );
  return `<vectorChild type="Structure"><guid type="String"><![CDATA[a<b>]]></guid>${part.pose ?? ''}
    <points type="CompressedVector" fileOffset="${place}" recordCount="${part.claim ?? part.points.length / 3}">
      <prototype type="Structure">${fields.join('\n')}</prototype>
      <codecs type="Vector" allowHeterogeneousChildren="1"></codecs>
    </points></vectorChild>`;
}

function xmlOf(scans: readonly string[]): string {
  return `<?xml version="1.0" encoding="UTF-8"?>
<!-- a comment with <tags> -->
<e57Root type="Structure" xmlns="http://www.astm.org/COMMIT/E57/2010-e57-v1.0">
  <formatName type="String"><![CDATA[ASTM E57 3D Imaging Data File]]></formatName>
  <data3D type="Vector" allowHeterogeneousChildren="1">${scans.join('\n')}</data3D>
</e57Root>`;
}
