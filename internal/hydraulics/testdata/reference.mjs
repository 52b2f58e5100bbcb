// Solves networks by the reference solver (EPANET, US EPA, compiled to
// WebAssembly) for the tests of package hydraulics. Networks come as JSON on the
// standard input, results go as JSON to the standard output. `again` in the
// first argument solves each so many times and tells the best time of each.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';

const require = createRequire(join(process.env.EVENFALL_ROOT, 'web', 'package.json'));
const { Workspace, Project, NodeType, LinkType, FlowUnits, HeadLossType, NodeProperty, LinkProperty, Option, InitHydOption } =
  require('epanet-js');

const psiPerFoot = 0.4333; // the engine's own
const again = Number(process.argv[2] ?? 0);
const accuracy = Number(process.argv[3] ?? 1e-8);
const networks = JSON.parse(readFileSync(0, 'utf8'));
const workspace = new Workspace();
if (workspace.loadModule) await workspace.loadModule();

function build(project, network) {
  project.init('report.rpt', 'out.bin', FlowUnits.GPM, HeadLossType.HW);
  network.nodes.forEach((n, i) => {
    // Sources stand beside their nodes, since a reservoir has no outlet here.
    const node = project.addNode(`N${i}`, NodeType.Junction);
    project.setJunctionData(node, n.elevation, n.demand, '');
    if (n.k > 0) project.setNodeValue(node, NodeProperty.Emitter, n.k);
  });
  network.links.forEach((l, i) => {
    const link = project.addLink(`L${i}`, LinkType.Pipe, `N${l.from}`, `N${l.to}`);
    project.setPipeData(link, l.length, l.inside, l.c, l.fittings);
  });
  network.nodes.forEach((n, i) => {
    if (!n.supply) return;
    const reservoir = project.addNode(`S${i}`, NodeType.Reservoir);
    // A supply with a curve is a pump that stands at the node's elevation.
    project.setNodeValue(reservoir, NodeProperty.Elevation, n.elevation);
    const curve = `C${i}`;
    project.addCurve(curve);
    project.setCurve(project.getCurveIndex(curve), n.supply.map((p) => p.flow), n.supply.map((p) => p.psi / psiPerFoot));
    const pump = project.addLink(`P${i}`, LinkType.Pump, `S${i}`, `N${i}`);
    project.setLinkValue(pump, LinkProperty.PumpHCurve, project.getCurveIndex(curve));
  });
  network.nodes.forEach((n, i) => {
    if (n.fixed == null) return;
    const reservoir = project.addNode(`S${i}`, NodeType.Reservoir);
    project.setNodeValue(reservoir, NodeProperty.Elevation, n.elevation + n.fixed / psiPerFoot);
    // The pipe between is in our network, too: `entry` in networks_test.go.
    const link = project.addLink(`P${i}`, LinkType.Pipe, `S${i}`, `N${i}`);
    project.setPipeData(link, n.entry.length, n.entry.inside, n.entry.c, 0);
  });
  project.setOption(Option.Emitexpon, network.exponent);
  project.setOption(Option.Trials, 500);
  project.setOption(Option.Accuracy, accuracy);
  project.setOption(Option.HeadError, accuracy === 1e-8 ? 1e-6 : 0);
  project.setOption(Option.FlowChange, accuracy === 1e-8 ? 1e-6 : 0);
}

const results = networks.map((network) => {
  const project = new Project(workspace);
  build(project, network);
  const solve = () => {
    project.openH();
    project.initH(InitHydOption.InitFlow);
    project.runH();
  };
  solve();
  const result = {
    pressure: network.nodes.map((_, i) => project.getNodeValue(project.getNodeIndex(`N${i}`), NodeProperty.Pressure)),
    flow: network.links.map((_, i) => project.getLinkValue(project.getLinkIndex(`L${i}`), LinkProperty.Flow)),
    ns: Infinity,
    engine: workspace.version,
  };
  project.closeH();
  for (let round = 0; round < again; round++) {
    const start = process.hrtime.bigint();
    solve();
    const took = Number(process.hrtime.bigint() - start);
    project.closeH();
    if (took < result.ns) result.ns = took;
  }
  if (again === 0) result.ns = 0;
  project.close();
  return result;
});
process.stdout.write(JSON.stringify(results));
