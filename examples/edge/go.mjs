// The worker in Go: a new instance for each request.
import { door } from './front.mjs';
import worker from './worker.mjs';

export default door((request, env, context) => worker.fetch(request, env, context));
