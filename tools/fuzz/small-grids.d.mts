import type { Buffer } from 'node:buffer';

export function gtxBytes(): Buffer;
export function geoidCsvBytes(): Buffer;
export function isgBytes(): Buffer;
export function tiffGridBytes(isDeflated: boolean): Buffer;
export function ntv2Bytes(): Buffer;
