export function sin(x: number): number;
export function cos(x: number): number;
export function atan(x: number): number;
export function atan2(y: number, x: number): number;
export function exp(x: number): number;
export function log(x: number): number;
export function sinh(x: number): number;
export function cosh(x: number): number;
export function atanh(x: number): number;
