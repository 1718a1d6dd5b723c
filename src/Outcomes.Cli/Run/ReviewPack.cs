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
/// <param name="Keys">Case id and record id, in the pack's order: for whoever must find the notes.</param>
public sealed record Review(CasePack Pack, ImmutableArray<(string CaseId, string RecordId)> Keys)
{
    private const int MostPoints = 600;

    private static readonly (Signal Signal, string Title, bool Shown)[] Signals = [(Signal.SpO2, "SpO2, %", true), (Signal.Systolic, "Systolic pressure, mmHg", true), (Signal.EtCO2, "End-tidal CO2", true)];

    /// <summary>Selects the cases of the report month and gathers what their pages tell. The engine must have its rows set aside.</summary>
    public static Review Of(Pipeline pipeline, Catalogue catalogue, Engine engine, TraceSet? traces, Month month)
    {
        ImmutableArray<Measure> measures = [.. catalogue.Measures.Where(measure => measure is { Kind: MeasureKind.Proportion, Direction: not Direction.None })];
        var headline = pipeline.Headline.Select(word => word.Word).ToHashSet(StringComparer.Ordinal);
        var records = engine.Review(catalogue.Flags, measures, CaseFacts.Columns(catalogue.Dictionary), month);
        var selected = Selection.Of(records, catalogue.Flags, CaseSalt.Of(pipeline), pipeline.Audience.ToString().ToLowerInvariant());
        var paged = selected.Where(each => each.HasPage).Select(each => each.Record).ToArray();
        var attempts = engine.Attempts(paged, CaseFacts.AttemptFields);
        var samples = traces is null ? [] : TraceSamples.Of(traces, paged.Select(record => record.RecordId).ToHashSet(StringComparer.Ordinal));
        var pack = new CasePack
        {
            PipelineName = pipeline.Name,
            Month = month,
            Audience = pipeline.Audience,
            Invented = pipeline.Invented,
            Version = Tool.Version,
            Records = records.Count,
            Cases = [.. selected.Select(each => Case(each, catalogue.Dictionary, measures, headline, attempts[each.Record.RecordId], samples.GetValueOrDefault(each.Record.RecordId)))],
            NotRun = NotRun(engine, catalogue.Flags),
        };
        return new Review(pack, [.. selected.Select(each => (each.Id, each.Record.RecordId))]);
    }

    public void Write(OutputFolder output)
    {
        File.WriteAllBytes(output.PathOf("cases.html"), Cases.Utf8(Pack));
        OutputTables.CaseKey(output.PathOf("case-key.csv"), Keys);
    }

    /// <summary>Flags that could not be judged, with the fields that are not collected.</summary>
    public static ImmutableArray<RuleNotRun> NotRun(Engine engine, ImmutableArray<Flag> flags) => [.. engine.SkippedFlags(flags).GroupBy(flag => flag.Flag).Select(group =>
        new RuleNotRun(group.Key, $"not collected: {string.Join(", ", group.SelectMany(flag => flag.Fields).Distinct().Order(StringComparer.Ordinal))}"))];

    private static ReviewCase Case(SelectedCase each, FieldDictionary dictionary, ImmutableArray<Measure> measures, IReadOnlySet<string> headline,
        IEnumerable<ImmutableDictionary<string, string>> attempts, RecordTrace? trace)
    {
        var flags = each.Flags.Select(flag => new FiredFlag(flag.Id, flag.Title, flag.Tier, flag.Why,
            [.. flag.Shows.Select(name => CaseFacts.Fact(dictionary, name, each.Record.Values.GetValueOrDefault(name)))]));
        var seen = new ReviewCase(each.Id, each.Kind, [.. flags]) { HasPage = each.HasPage };
        if (!each.HasPage)
            return seen;
        return seen with
        {
            Facts = CaseFacts.Of(each.Record, dictionary),
            Plans = CaseFacts.Plans(each.Record),
            Attempts = CaseFacts.Attempts(attempts),
            Moments = CaseFacts.Moments(each.Record, attempts),
            Signals = trace is null ? [] : [.. Signals.Select(signal => Drawn(trace, signal.Signal, signal.Title)).OfType<CaseSignal>()],
            Standards = CaseStandards.Of(measures, each.Record.Answers, headline, each.Flags),
        };
    }

    private static CaseSignal? Drawn(RecordTrace trace, Signal signal, string title)
    {
        var clean = CleanSignal.Of(trace.Of(signal));
        if (clean.Count == 0)
            return null;
        var span = (clean.Ms(clean.Count - 1) - clean.Ms(0)) / 1000;
        var thinned = clean.Count > MostPoints ? (span / MostPoints) + 1 : 0;
        var points = ImmutableArray.CreateBuilder<(double, double)>();
        for (var i = 0; i < clean.Count; i++)
        {
            var (lowest, from) = (clean.Value(i), clean.Ms(i));
            while (thinned > 0 && clean.Joined(i) && clean.Ms(i + 1) - from < thinned * 1000)
                lowest = Math.Min(lowest, clean.Value(++i));
            points.Add((from / 1000.0, lowest));
            if (i + 1 < clean.Count && !clean.Joined(i)) points.Add((clean.Ms(i) / 1000.0, double.NaN));
        }

        return new CaseSignal(title, points.ToImmutable(), thinned);
    }
}
