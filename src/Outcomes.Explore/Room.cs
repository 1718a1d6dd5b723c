using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;
using Outcomes.Reporting.Answers;

namespace Outcomes.Explore;

/// <summary>The report of the pipeline, as the room knows it.</summary>
internal sealed record RoomReport(
    Figures Figures, CasePack Cases, IReadOnlyList<Finding> Findings, ImmutableArray<FittedMix> Mixes,
    IReadOnlyList<MonthCompleteness> Completeness);

/// <summary>The records of a pipeline, loaded once, and the questions that are put to them, one at a time.</summary>
public sealed class Room : IDisposable
{
    // As many as no department has.
    private const long ManyRecords = 200_000;

    private readonly RoomSource _source;
    private readonly SemaphoreSlim _engine = new(1);
    private readonly Lazy<Task<RoomReport>> _report;

    public Room(RoomSource source)
    {
        ArgumentNullException.ThrowIfNull(source);
        _source = source;
        First = source.Records.Keys.DefaultIfEmpty(source.Plan.Month).Min() is var first && first < source.Plan.Month
            ? first : source.Plan.Month;
        Frame = new()
        {
            Pipeline = source.Plan.Name,
            Titles = source.Plan.Titles,
            First = First,
            Month = source.Plan.Month,
            AsOf = source.Plan.AsOf,
            Invented = source.Plan.Invented,
            DefinitionsHash = source.Plan.Definitions.Hash,
            Version = source.Version,
        };
        _report = new(() => Task.Run(MakeReport));
        Fields = [.. source.Plan.Titles.All.Select(each => (Use: source.Engine.Use(each.Name), each.Title))
            .Where(each => each.Use is not null && each.Use.Name != "record_id")
            .OrderBy(each => each.Title, StringComparer.OrdinalIgnoreCase).Select(each => (each.Use!, each.Title))];
    }

    /// <summary>The first month with a record.</summary>
    public Month First { get; }

    public AnswerFrame Frame { get; }

    /// <summary>The fields that conditions and splits may use, by title.</summary>
    public ImmutableArray<(FieldUse Use, string Title)> Fields { get; }

    /// <summary>True where the report takes so long that no question waits for it.</summary>
    private bool IsLarge => _source.Records.Values.Sum() > ManyRecords;

    internal AnalysisPlan Plan => _source.Plan;

    /// <summary>The report's figures: made once, when they are first asked for.</summary>
    internal Task<RoomReport> Report => _report.Value;

    /// <summary>Answers a question.</summary>
    /// <param name="question">The question.</param>
    /// <param name="withReport">Whether the verdict of the report and its case-mix model stand beside it.</param>
    /// <param name="stop">Gives up waiting for earlier questions.</param>
    /// <exception cref="Failure">The question cannot be asked (exit 2).</exception>
    public async Task<AnswerView> Answer(QuestionDefinition question, bool withReport, CancellationToken stop)
    {
        var asked = await Alone(engine => SettleQuestion.Settle(question, Plan, engine, First), stop).ConfigureAwait(false);
        var report = withReport && NeedsReport(asked) && (!IsLarge || IsReportMade)
            ? await Report.WaitAsync(stop).ConfigureAwait(false) : null;
        var mix = report?.Mixes.FirstOrDefault(each => each.Measure.Id == asked.Measure.Id);
        var (counted, sql) = await Alone(engine => (
            CountQuestion.Count(asked, Plan, engine, _source.Records, withCaseMix: mix is not null),
            engine.ShowSql(asked.First.Of(asked.Measure), (asked.First.From, asked.First.To), asked.Definition.By.FirstOrDefault())), stop)
            .ConfigureAwait(false);
        return new(AnswerQuestion.Analyse(counted, Plan, mix), Frame)
        {
            Reported = report is not null && IsReports(asked)
                ? report.Figures.Measures.FirstOrDefault(each => each.Measure.Id == asked.Measure.Id) : null,
            Sql = sql,
            LacksReport = withReport && report is null && NeedsReport(asked),
            Command = $"outcomes explore {_source.Pipeline} --ask \"{QuestionText.Query(asked.Settled)}\"",
        };
    }

    /// <summary>Begins to make the report's figures, so that no question waits for them later.</summary>
    public Task Prepare() => IsLarge ? Task.CompletedTask : Report;

    /// <summary>Reads a condition.</summary>
    /// <exception cref="Failure">It cannot be read (exit 2).</exception>
    public Task<ReadCondition> Read(string condition, CancellationToken stop) => Alone(engine => engine.ReadCondition(condition), stop);

    /// <summary>Saves a question beside the pipeline.</summary>
    public string Save(string name, QuestionDefinition question) => _source.Save(name, QuestionText.Yaml(question));

    public void Dispose() => _engine.Dispose();

    private bool IsReportMade => _report is { IsValueCreated: true, Value.IsCompletedSuccessfully: true };

    private bool NeedsReport(AskedQuestion asked) =>
        IsReports(asked) || Plan.CaseMix?.Measures.Contains(asked.Measure.Id) is true;

    // The report's own question: all records of its own months.
    private bool IsReports(AskedQuestion asked) => asked.First.Condition.Text.Length == 0 && asked.First.To == Plan.Month
        && asked.First.From == (Plan.Month.AddMonths(-11) < First ? First : Plan.Month.AddMonths(-11));

    private async Task<RoomReport> MakeReport()
    {
        var (counted, completeness) = await Alone(engine =>
        {
            var counts = _source.Count();
            return (counts, engine.CompletenessByMonth(counts.Counts.Data.Completeness.Select(each => each.Field)));
        }, CancellationToken.None).ConfigureAwait(false);
        return new(Analyse.Department(counted.Counts) with { Version = _source.Version }, counted.Cases, counted.Findings,
            FittedMix.FitAll(counted.Counts), completeness);
    }

    private async Task<T> Alone<T>(Func<Engine, T> work, CancellationToken stop)
    {
        await _engine.WaitAsync(stop).ConfigureAwait(false);
        try
        {
            return work(_source.Engine);
        }
        finally
        {
            _engine.Release();
        }
    }
}
