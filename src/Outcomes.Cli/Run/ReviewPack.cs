using System.Collections.Immutable;
using Outcomes.Cli.Definitions;
using Outcomes.Ingestion.Traces;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;
using Outcomes.Reporting.Model;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Run;

/// <summary>The cases of a month, and which record each is.</summary>
/// <param name="Pack">What the meeting sees.</param>
/// <param name="Keys">Case id, record id and kind, in the pack's order: for whoever must find the notes.</param>
public sealed record Review(CasePack Pack, ImmutableArray<(string CaseId, string RecordId, CaseKind Kind)> Keys)
{
    /// <summary>
    /// Selects the cases of the report month, and those of earlier months that no earlier pack held so high; gathers what their pages tell. The
    /// engine must have its rows set aside.
    /// </summary>
    public static Review Of(Pipeline pipeline, Catalogue catalogue, Engine engine, TraceSet? traces, Month month, EarlierPacks earlier)
    {
        var details = new CaseDetails(pipeline, catalogue, engine, month);
        var records = details.Judged(month);
        var late = Late(catalogue, engine, details, earlier);
        var selected = Selection.Of(records, catalogue.Flags, CaseSalt.Of(pipeline), pipeline.Audience.ToString().ToLowerInvariant(), [.. late.Select(item => item.Record)]);
        var pack = new CasePack
        {
            PipelineName = pipeline.Name,
            Month = month,
            Audience = pipeline.Audience,
            Invented = pipeline.Invented,
            Version = Tool.Version,
            Records = records.Count,
            Cases = details.Cases(selected, traces, late.ToDictionary(item => item.Record.RecordId, item => item.Month, StringComparer.Ordinal)),
            NotRun = NotRun(engine, catalogue.Flags),
        };
        return new Review(pack, [.. selected.Select(each => (each.Id, each.Record.RecordId, each.Kind))]);
    }

    // Only months that were reported: before the first report of a department everything would be late.
    private static ImmutableArray<(Month Month, JudgedRecord Record)> Late(Catalogue catalogue, Engine engine, CaseDetails details, EarlierPacks earlier)
    {
        if (earlier.Keys.IsEmpty)
            return [];
        var seen = earlier.Seen();
        var late = engine.HighestIn(catalogue.Flags, earlier.Months).Where(each => CaseKinds.Of(catalogue.Flags[each.Flag].Tier) is var kind
            && CaseKinds.HasPage(kind) && !(seen.TryGetValue(each.RecordId, out var before) && before <= kind)).ToArray();
        return [.. late.GroupBy(each => each.Month).SelectMany(group => details.Judged(group.Key)
            .Where(record => group.Any(each => each.RecordId == record.RecordId)).Select(record => (group.Key, record)))];
    }

    public void Write(OutputFolder output)
    {
        File.WriteAllBytes(output.PathOf("cases.html"), Cases.Utf8(Pack));
        OutputTables.CaseKey(output.PathOf("case-key.csv"), Keys);
    }

    /// <summary>Flags that could not be judged, with the fields that are not collected.</summary>
    public static ImmutableArray<RuleNotRun> NotRun(Engine engine, ImmutableArray<Flag> flags) => [.. engine.SkippedFlags(flags).GroupBy(flag => flag.Flag).Select(group =>
        new RuleNotRun(group.Key, $"not collected: {string.Join(", ", group.SelectMany(flag => flag.Fields).Distinct().Order(StringComparer.Ordinal))}"))];
}
