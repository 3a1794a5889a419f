// What a service worker has of its own, beside what every worker has.

declare const clients: Clients;
declare const registration: ServiceWorkerRegistration;
declare function skipWaiting(): Promise<void>;
declare function addEventListener<K extends keyof ServiceWorkerGlobalScopeEventMap>(
  type: K,
  listener: (event: ServiceWorkerGlobalScopeEventMap[K]) => void,
): void;
