using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Output;

/// <summary>
/// What a run leaves when a whole file is refused: a ledger of one row and the finding, so that the refusal is on record too.
/// </summary>
public static class RefusedFile
{
    public static void Write(OutputFolder output, string pipeline, Failure refusal)
    {
        var file = refusal.File ?? "";
        OutputTables.Ledger(output.PathOf("tables/ledger.csv"),
            table => OutputTables.LedgerRow(table, file, 0, [], Fate.Refused, refusal.Rule));
        OutputTables.Findings(output.PathOf("tables/findings.csv"),
            [new Finding(refusal.Rule, Severity.Refuse, file, refusal.Line, "", "", refusal.Reason)]);
        OutputTables.Quarantine(output.PathOf("tables/quarantine.csv"), [], []);
        DataPackage.Write(output, pipeline, Audience.Department);
        RunManifest.WriteRefused(output.PathOf("run.json"), pipeline, refusal);
        output.Publish();
    }
}
