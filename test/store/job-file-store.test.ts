import { jobStoreContract } from './contract.ts';
import { fileHarness } from './file-harness.ts';

jobStoreContract('job-file-store', () => fileHarness());
