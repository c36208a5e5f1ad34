/** The features the server offers, as one record, so that a test can put a failing one in a place. */
import { provideCodeActions } from '#features/code-actions';
import { provideCompletion } from '#features/completion';
import { provideDefinition } from '#features/definition';
import { provideDiagnostics } from '#features/diagnostics';
import { provideDocumentLinks } from '#features/document-links';
import { provideDocumentSymbols } from '#features/document-symbols';
import { provideFormatting } from '#features/formatting';
import { provideHover } from '#features/hover';
import { provideInlayHints } from '#features/inlay-hints';

export const allFeatures = {
  provideCodeActions,
  provideCompletion,
  provideDefinition,
  provideDiagnostics,
  provideDocumentLinks,
  provideDocumentSymbols,
  provideFormatting,
  provideHover,
  provideInlayHints,
};

export type Features = typeof allFeatures;
