using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Output;

/// <summary>
/// What a run leaves when a whole file is refused: a ledger of one row and the finding, so that the refusal is on record too.
/// </summary>
public static class RefusedFile
{
    public static void Write(OutputFolder output, Failure refusal)
    {
        var file = refusal.File ?? "";
        LedgerTable.Write(output.PathOf, table => LedgerTable.Add(table, new(file, 0, [], Fate.Refused, refusal.Rule)));
        FindingsTable.Write(output.PathOf,
            [new Finding(refusal.Rule, Severity.Refuse, file, refusal.Line, "", "", refusal.Reason)]);
        var quarantine = QuarantineTable.Write(output.PathOf, [], []);
        DataPackage.Write(output, Audience.Department, [quarantine]);
        RunManifest.WriteRefused(output, refusal);
        output.Publish();
    }
}
