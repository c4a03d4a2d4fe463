import { EditorView } from '@codemirror/view';

const underline = (colour: string): Record<string, string> => ({
  backgroundImage: 'none',
  paddingBottom: '0',
  textDecoration: `underline wavy ${colour} 1.5px`,
  textUnderlineOffset: '4px',
});

/** A sign of its own for each severity: the library's own are data: pictures, which the pages' policy forbids. */
const gutterSign = (sign: string, colour: string): Record<string, string | Record<string, string>> => ({
  content: 'normal',
  color: colour,
  fontWeight: '700',
  lineHeight: '1',
  textAlign: 'center',
  '&::before': { content: `"${sign}"` },
});

/** The page's own colours (custom properties reach into the shadow root), so light and dark need nothing here. */
export const editorTheme = EditorView.theme({
  '&': { height: '100%', color: 'var(--writing)', backgroundColor: 'var(--sheet)', fontSize: '1rem' },
  '&.cm-focused': { outline: 'none' },
  '.cm-scroller': { fontFamily: 'var(--mono)', lineHeight: '1.6' },
  '.cm-content': { caretColor: 'var(--writing)', padding: '10px 0 40px' },
  '.cm-cursor, .cm-dropCursor': { borderLeftColor: 'var(--writing)', borderLeftWidth: '2px' },
  '.cm-gutters': { backgroundColor: 'var(--sheet)', color: 'var(--quiet)', border: 'none', paddingLeft: '4px' },
  '.cm-gutter-lint': { width: '1.2em' },
  '.cm-activeLine, .cm-activeLineGutter': { backgroundColor: 'transparent' },
  '&.cm-focused .cm-activeLine, &.cm-focused .cm-activeLineGutter': { backgroundColor: 'var(--well)' },
  '&.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground, .cm-selectionBackground': {
    background: 'var(--selection)',
  },
  '.cm-placeholder': { color: 'var(--quiet)', whiteSpace: 'pre-wrap' },
  '.cm-lintRange-error': underline('var(--warn)'),
  '.cm-lintRange-warning': underline('var(--warning)'),
  '.cm-lintRange-info': { ...underline('var(--quiet)'), textDecorationStyle: 'dotted' },
  '.cm-lintPoint:after': { borderBottomColor: 'var(--warn)' },
  '.cm-lint-marker-error': gutterSign('!', 'var(--warn)'),
  '.cm-lint-marker-warning': gutterSign('?', 'var(--warning)'),
  '.cm-lint-marker-info': gutterSign('i', 'var(--quiet)'),
  '.cm-tooltip': {
    backgroundColor: 'var(--raised)',
    color: 'var(--writing)',
    border: '1px solid var(--line)',
    borderRadius: '6px',
    maxWidth: '26rem',
    fontFamily: '"Atkinson Hyperlegible Next Variable", system-ui, sans-serif',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul': { fontFamily: 'var(--mono)', maxHeight: '18rem' },
  '.cm-tooltip.cm-tooltip-autocomplete > ul > li': { padding: '4px 10px' },
  '.cm-tooltip-autocomplete ul li[aria-selected]': { backgroundColor: 'var(--chief)', color: 'var(--on-chief)' },
  '.cm-completionMatchedText': { textDecoration: 'none', fontWeight: '700' },
  '.cm-completionDetail': { fontStyle: 'normal', color: 'inherit', marginLeft: '1em' },
  '.cm-diagnostic': { padding: '6px 10px', lineHeight: '1.4' },
  '.cm-diagnostic-error': { borderLeft: '4px solid var(--warn)' },
  '.cm-diagnostic-warning': { borderLeft: '4px solid var(--warning)' },
  '.cm-diagnostic-info': { borderLeft: '4px solid var(--quiet)' },
  '.short-title': { fontWeight: '700', fontSize: '1.12em' },
  '.short-section': { fontWeight: '700', color: 'var(--accent)' },
  '.short-note': { color: 'var(--quiet)', fontStyle: 'italic' },
  '.short-number': { fontWeight: '600' },
  '.short-time': { color: 'var(--short-time)', fontWeight: '600' },
  '.short-release': { color: 'var(--short-time)' },
  '.short-stroke, .short-activity': { color: 'var(--short-stroke)' },
  '.short-effort': { color: 'var(--short-effort)' },
  '.short-start, .short-equipment': { color: 'var(--short-gear)' },
  '.short-block': { color: 'var(--accent)', fontWeight: '600' },
  '.short-sign': { color: 'var(--quiet)' },
});
