import { describe, expect, it } from 'vitest';
import { withIndices } from '../../../../src/report/page/words/with-indices.js';

describe('symbols of a sentence', () => {
  it('have their index below the line, and what is no symbol stays as it is', () => {
    expect(withIndices('s_xy against σ_h, 9.6 mm').html).toBe('s<sub>xy</sub> against σ<sub>h</sub>, 9.6 mm');
    expect(withIndices('sigma_east_m and a_b_c, P_1, <s_h>').html).toBe(
      'sigma_east_m and a_b_c, P_1, &lt;s<sub>h</sub>&gt;',
    );
    expect(withIndices('').html).toBe('');
  });
});
