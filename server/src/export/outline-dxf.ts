/** Centre lines as 3D polylines in a DXF file whose unit is the millimetre; a layer for each shape. */
import { Colors, DxfWriter, point3d, Units } from '@tarikjabiri/dxf';
import type { NamedShape } from './shapes';

export function shapesDxf(shapes: readonly NamedShape[]): string {
  const file = new DxfWriter();
  file.setUnits(Units.Millimeters);
  for (const [index, { name, outline }] of shapes.entries()) {
    const layer = name.toUpperCase().replace(/[^A-Z0-9_]/g, '_');
    file.addLayer(layer, COLOURS[index % COLOURS.length], 'Continuous');
    file.setCurrentLayerName(layer);
    file.addPolyline3D(
      outline.stations.map((_, k) => ({
        point: point3d(outline.points[3 * k], outline.points[3 * k + 1], outline.points[3 * k + 2]),
      })),
    );
  }
  return file.stringify();
}

const COLOURS = [Colors.Magenta, Colors.Green, Colors.Cyan, Colors.White, Colors.Yellow];
