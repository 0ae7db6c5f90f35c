import { jobStoreAnomalies } from './anomalies.ts';
import { jobStoreContract } from './contract.ts';
import { FILE_DAMAGES, FILE_FAULTS, fileHarness } from './file-harness.ts';

jobStoreContract('job-file-store', () => fileHarness());
jobStoreAnomalies('job-file-store', () => fileHarness(), {
  faults: FILE_FAULTS,
  damages: FILE_DAMAGES,
});
