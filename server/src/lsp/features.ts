/** The features the server offers, as one record, so that a test can put a failing one in a place. */
import { provideCodeActions } from '#features/code-actions';
import { provideCodeLenses } from '#features/code-lens';
import { provideCompletion } from '#features/completion';
import { provideDefinition } from '#features/definition';
import { provideDiagnostics } from '#features/diagnostics';
import { provideDocumentHighlights } from '#features/document-highlight';
import { provideDocumentLinks } from '#features/document-links';
import { provideDocumentSymbols } from '#features/document-symbols';
import { provideFileRename } from '#features/file-rename';
import { provideFoldingRanges } from '#features/folding-ranges';
import { provideFormatting } from '#features/formatting';
import { provideHover } from '#features/hover';
import { provideInlayHints } from '#features/inlay-hints';
import { provideOnTypeFormatting, provideRangeFormatting } from '#features/line-formatting';
import { provideReferences } from '#features/references';
import { prepareRename, provideRename } from '#features/rename';
import { checkRequirements, provideRequirements } from '#features/requirements';
import { provideSelectionRanges } from '#features/selection-ranges';
import { provideSemanticTokens } from '#features/semantic-tokens';
import { provideSignatureHelp } from '#features/signature-help';
import { provideWorkspaceSymbols } from '#features/workspace-symbols';

export const allFeatures = {
  provideCodeLenses,
  provideDocumentHighlights,
  provideFileRename,
  provideFoldingRanges,
  provideOnTypeFormatting,
  provideRangeFormatting,
  provideReferences,
  provideRequirements,
  checkRequirements,
  prepareRename,
  provideRename,
  provideSelectionRanges,
  provideSemanticTokens,
  provideSignatureHelp,
  provideWorkspaceSymbols,
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
