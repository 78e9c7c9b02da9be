import type { MessageKey } from '../host/i18n.ts';
import type { ProblemCode } from '../host/problem.ts';

/** The one line for each way that a chart may not open. It names the file, the reason, and what to do next. */
export const problemLines: Readonly<Record<ProblemCode, MessageKey>> = {
  'not-pdf': 'problem_not_pdf',
  empty: 'problem_empty',
  http: 'problem_http',
  unreachable: 'problem_unreachable',
  redirected: 'problem_redirected',
  'broken-off': 'problem_broken_off',
  'too-slow': 'problem_too_slow',
  stopped: 'problem_stopped',
  'too-large': 'problem_too_large',
  'no-grant': 'problem_no_grant',
  'no-address': 'problem_no_address',
  'page-blob': 'problem_page_blob',
  'file-tab': 'problem_file_tab',
  'file-tab-off': 'problem_file_tab_off',
  'file-taken-back': 'problem_file_taken_back',
  'no-room': 'problem_no_room',
  'no-database': 'problem_no_database',
  'not-a-save': 'problem_not_a_save',
  'no-sample': 'problem_no_sample',
  failed: 'problem_failed',
};
