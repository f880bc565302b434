import { HtmlValidate } from 'html-validate';

/** What a validator of HTML finds wrong with a page; nothing, for a good one. */
export async function htmlFaults(html: string): Promise<readonly string[]> {
  const validator = new HtmlValidate({ extends: ['html-validate:recommended', 'html-validate:document'] });
  const report = await validator.validateString(html, 'page.html');
  return report.results.flatMap(({ messages }) =>
    messages.map(({ ruleId, message, line, column }) => `${String(line)}:${String(column)} ${ruleId}: ${message}`),
  );
}
