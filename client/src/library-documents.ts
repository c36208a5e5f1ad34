/** The bundled library as read-only documents, so that going to a definition in it opens its text. */
import * as vscode from 'vscode';
import { library } from '#library';

const scheme = 'springwright-library';

export const isLibraryDocument = (uri: vscode.Uri): boolean => uri.scheme === scheme;

export function registerLibraryDocuments(): vscode.Disposable {
  return vscode.workspace.registerTextDocumentContentProvider(scheme, {
    provideTextDocumentContent: ({ path }) => library.get(moduleName(path)),
  });
}

/** `/alloys.spring` -> `alloys` */
const moduleName = (path: string): string => path.replace(/^\//, '').replace(/\.spring$/, '');
