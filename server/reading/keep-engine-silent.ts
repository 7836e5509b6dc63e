/**
 * The networks' engine reports its use to its vendor and writes an id of the device into the user's
 * cache, unless this variable is set before it is loaded. Native code reads it once, from the
 * process: a thread of a process that did not set it cannot.
 */
process.env['ORT_DISABLE_TELEMETRY'] = '1';
