import type { FiniteElementCase } from './case';
import { planarCases } from './planar';
import { plasticCases } from './plastic';
import { spatialCases } from './spatial';

export const finiteElementCases: readonly FiniteElementCase[] = [...planarCases, ...spatialCases, ...plasticCases];
