import type { IForbiddenRuleType, ICruiseOptions } from 'dependency-cruiser';

declare const rules: {
  readonly forbidden: IForbiddenRuleType[];
  readonly options: ICruiseOptions;
};

export default rules;
