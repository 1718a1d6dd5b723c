using Outcomes.Analysis;
using Outcomes.Cli.Checking;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;

namespace Outcomes.Cli;

/// <summary>The review cases of a month, from the records of a pipeline.</summary>
internal static class ReviewCases
{
    /// <summary>The cases of the plan's month.</summary>
    /// <param name="plan">Flags, measures, month.</param>
    /// <param name="records">The records.</param>
    /// <param name="earlier">The packs of earlier months.</param>
    public static CaseSelection Select(AnalysisPlan plan, CheckedRecords records, EarlierPacks earlier)
    {
        var selection = new SelectCases(plan, records.Engine)
            .Select(CaseSalt.Of(records.Pipeline), earlier.Reviews(), asked => CaseSignals.Read(records.Traces, asked));
        return selection with { Pack = selection.Pack with { Version = Tool.Version } };
    }
}
