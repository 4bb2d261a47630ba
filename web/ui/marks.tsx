/** Drawn marks for states; colour never speaks alone: shape, side and word carry the meaning. */

export type MarkKind =
  | 'within'
  | 'near'
  | 'outside'
  | 'caution'
  | 'unknown'
  | 'pending'
  | 'none'
  | 'stale'
  | 'conceded';

const shapes: Readonly<Record<MarkKind, React.ReactNode>> = {
  within: <circle cx="12" cy="12" r="6" className="mark-fill" />,
  near: <path d="M17.5 7.2A7.3 7.3 0 1 0 17.5 16.8Z" className="mark-fill" />,
  outside: <path d="M4 4h16v4.5L13 12l7 3.5V20H4Z" className="mark-fill" />,
  caution: <path d="M4 4h16v16H4ZM8 8v8h8V8Z" className="mark-fill" fillRule="evenodd" />,
  unknown: (
    <g className="mark-line">
      <path d="M12 4.5a7.5 7.5 0 0 1 6.3 3.4" />
      <path d="M19.4 12.8a7.5 7.5 0 0 1-5.2 6.4" />
      <path d="M9.2 18.9A7.5 7.5 0 0 1 5.6 8.1" />
    </g>
  ),
  pending: <path d="M17.3 6.7a7.5 7.5 0 1 0 0 10.6" className="mark-line" />,
  none: <path d="M7 12h10" className="mark-line" />,
  conceded: <path d="M4 4h10l6 6v10H4ZM14 4v6h6" className="mark-fill mark-fold" />,
  stale: (
    <g className="mark-line">
      <rect x="4" y="4" width="11" height="11" />
      <rect x="9" y="9" width="11" height="11" />
    </g>
  ),
};

export function Mark({ kind }: { readonly kind: MarkKind }): React.ReactNode {
  return (
    <svg className={`mark mark-${kind}`} viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      {shapes[kind]}
    </svg>
  );
}

/** A filled tag: mark and words together. */
export function Tag({ kind, text }: { readonly kind: MarkKind; readonly text: string }): React.ReactNode {
  return (
    <span className={`tag tag-${kind}`}>
      <Mark kind={kind} />
      <span>{text}</span>
    </span>
  );
}
