/** A page of its own that shows one file: the preview's page and, before it asks for one, its host. */
import './page-host';
import '../webview/preview';
