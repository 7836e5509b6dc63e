import cvModule from '@techstark/opencv-js';

export type OpenCv = typeof cvModule;

let loading: Promise<{ cv: OpenCv }> | undefined;

/**
 * OpenCV, started once per process or worker. It is handed out inside an object because the module
 * has a `then` of its own: a promise that resolved with it would wait for ever.
 */
export function loadOpenCv(): Promise<{ cv: OpenCv }> {
  loading ??= new Promise((resolve) => {
    if (typeof cvModule.Mat === 'function') resolve({ cv: cvModule });
    else cvModule.onRuntimeInitialized = () => resolve({ cv: cvModule });
  });
  return loading;
}
