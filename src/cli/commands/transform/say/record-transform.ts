import { textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import { geoidModel } from '../../../shell/messages/say-geoid.js';
import type { LoadedTransform } from '../options/load-transform.js';

/** Writes what a transformation was made of into the run record: systems, grids, methods, settings. */
export function recordTransform(loaded: LoadedTransform, invocation: Invocation, log: RunLog): void {
  const { planned, shift, site, velocities } = loaded;
  const { from, to, end, heights, isOwnSite } = planned;
  if (site !== null) log.input(site.source, 'site', 0, 0);
  // A site has no system of its own: where it stands in that of the other end, that one is named once.
  for (const [role, side, at] of [
    ['from', from, 'in'],
    ['to', to, 'out'],
  ] as const)
    if (!isOwnSite || end?.at !== at)
      log.model('system', { role, name: side.label, definition: side.definition, sha256: null });
  const { geoid } = heights;
  if (geoid !== null) log.model('grid', geoidModel(geoid));
  if (shift !== null)
    log.model('grid', {
      role: 'shift',
      name: shift.name,
      definition: shift.kind === 'grid' ? shift.facts.frame : null,
      sha256: shift.sha256,
      ...(shift.kind === 'grid' && { test: shift.test }),
    });
  if (velocities !== null)
    log.model('grid', {
      role: 'velocities',
      name: velocities.name,
      definition: velocities.frame,
      sha256: velocities.sha256,
    });
  const fitted = end?.site?.geoid ?? null;
  if (fitted !== null)
    log.model('grid', { role: 'geoid of the site', name: fitted.name, definition: null, sha256: fitted.sha256 });
  for (const method of planned.methods) log.method(method);
  recordSettings(loaded, invocation, log);
}

function recordSettings({ planned, options, site }: LoadedTransform, invocation: Invocation, log: RunLog): void {
  const option = (key: string, value: string | number | null): void => {
    if (value !== null) log.setting(key, value, 'command line');
  };
  const { from, to, end, heights, isOwnSite } = planned;
  if (!isOwnSite)
    for (const [name, side] of [
      ['from', from],
      ['to', to],
    ] as const) {
      const isTyped = site === null || textOption(invocation, name) !== null;
      log.setting(`transform.${name}`, side.name, isTyped ? 'command line' : 'default');
    }
  option('transform.epoch_year', options.epochYear);
  for (const [key, name] of [
    ['from_height', 'fromHeight'],
    ['to_height', 'toHeight'],
    ['ground_at', 'groundAt'],
    ['topocentric_at', 'topocentricAt'],
    ['plate', 'plate'],
    ['plate_model', 'plateModel'],
    ['velocity', 'velocity'],
  ] as const) {
    option(`transform.${key}`, textOption(invocation, name));
  }
  if (heights.geoid !== null)
    log.setting(
      'height.interpolation',
      heights.geoid.interpolation,
      textOption(invocation, 'geoidInterpolation') === null ? 'default' : 'command line',
    );
  option('height.geoid_frame', textOption(invocation, 'geoidFrame'));
  if (end?.site != null) {
    const { extrapolate, inverse } = invocation.options;
    log.setting('transform.inverse', inverse === true, inverse === true ? 'command line' : 'default');
    log.setting('transform.extrapolate', extrapolate === true, extrapolate === true ? 'command line' : 'default');
    log.setting('site.buffer_m', end.site.bufferM, 'default');
  } else if (options.inverse) log.setting('transform.inverse', true, 'command line');
  if (options.acceptsDefault) log.setting('transform.accept_default_shift', true, 'command line');
}
