using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>
/// Everything that was counted for one department, as plain data: what <see cref="Analyse.Department"/> turns into figures. The engine
/// supplies it by <see cref="CountDepartment"/>; another program may supply counts of its own.
/// </summary>
public sealed record DepartmentCounts
{
    public required AnalysisPlan Plan { get; init; }

    /// <summary>Accepted records by month; months without any may be absent.</summary>
    public required IReadOnlyDictionary<Month, long> Records { get; init; }

    /// <summary>Who of them is counted, by month; null where that was not asked.</summary>
    public IReadOnlyDictionary<Month, Flow>? Flow { get; init; }

    /// <summary>Proportions by month, and by month and level of each stratum.</summary>
    public required CountResult Counts { get; init; }

    /// <summary>Quantities by whole-unit value, month and level.</summary>
    public ValueResult Values { get; init; } = new([], [], [], []);

    /// <summary>Events of harm among all records, by month; empty where no flag names one.</summary>
    public IReadOnlyList<HarmCount> Harm { get; init; } = [];

    /// <summary>How emergency records of the last 12 months moved between plans; null where plans are not recorded.</summary>
    public PlanLadder? Ladder { get; init; }

    /// <summary>For each measure to be adjusted, its judged records with their case mix.</summary>
    public ImmutableDictionary<string, Design> CaseMixDesigns { get; init; } = ImmutableDictionary<string, Design>.Empty;

    /// <summary>For each proportion with rare events, its judged records in order of date.</summary>
    public ImmutableDictionary<string, Design> EventDesigns { get; init; } = ImmutableDictionary<string, Design>.Empty;

    /// <summary>Sections' counts by id.</summary>
    public ImmutableDictionary<string, SectionCounts> Sections { get; init; } = ImmutableDictionary<string, SectionCounts>.Empty;

    /// <summary>Headline proportions by site and month; empty where there are fewer than two sites.</summary>
    public ImmutableArray<CountRow> Sites { get; init; } = [];

    /// <summary>Records by what both places of each agreement pair answer, as indices of its answers.</summary>
    public ImmutableDictionary<AgreementPair, ImmutableArray<AgreementCount>> Agreements { get; init; } =
        ImmutableDictionary<AgreementPair, ImmutableArray<AgreementCount>>.Empty;

    /// <summary>What saved questions ask; those whose months lie outside the records are left out.</summary>
    public ImmutableArray<QuestionCounts> Questions { get; init; } = [];

    /// <summary>Records against an independent count; null where the pipeline names none.</summary>
    public CaptureFigures? Capture { get; init; }

    /// <summary>Records with a monitor trace; null where the pipeline has no traces.</summary>
    public TraceFigures? Traces { get; init; }

    /// <summary>
    /// The same proportions by three-valued logic, for measures with missing records: a record whose known parts decide the answer is
    /// judged here. It narrows the bounds for missing records and is no estimate, for it judges some answers sooner than others.
    /// </summary>
    public ImmutableArray<CountRow> Decided { get; init; } = [];

    /// <summary><see cref="Decided"/> as series.</summary>
    public SeriesBook ReadDecided() => new(Decided, Book.First, Book.Last);

    /// <summary>Records by month and delay of entry; empty where that is not collected.</summary>
    public IReadOnlyList<LevelCount> Delays { get; init; } = [];

    /// <summary>The last months of which records are still to come.</summary>
    public ImmutableArray<EntryCompleteness> Provisional => EntryDelays.FindProvisional(Delays, Records, Month, AsOf);

    /// <summary>The last month that is over and complete enough to be tested.</summary>
    public Month LastComplete
    {
        get
        {
            var over = Month.LastDay > AsOf ? Month.AddMonths(-1) : Month;
            return Provisional is [var first, ..] && first.Month <= over ? first.Month.AddMonths(-1) : over;
        }
    }

    /// <summary>How complete the data are, and what was wrong with them.</summary>
    public DataState Data { get; init; } = new();

    /// <summary>New cases for review by kind; empty where no cases are made.</summary>
    public ImmutableArray<ReviewCount> Review { get; init; } = [];

    /// <summary>From the first month with a record, or the baseline's if earlier, to the report month.</summary>
    public SeriesBook Book => field ??= new(Counts.Rows, FirstMonth(Plan, Records.Keys), Plan.Month);

    /// <summary>The report month.</summary>
    public Month Month => Plan.Month;

    public DateOnly AsOf => Plan.AsOf;

    /// <summary>Who is counted, from one month to another, both included; null where that was not asked.</summary>
    public Flow? FlowIn(Month from, Month to) => Flow is null ? null
        : Flow.Where(month => month.Key >= from && month.Key <= to).Aggregate(Analysis.Flow.Empty, (sum, month) => sum + month.Value);

    /// <summary>First of the 12 months that end with the report month, or of as many as there are.</summary>
    public Month YearFrom => FirstOfYear(Plan, Records.Keys);

    /// <summary>First month of every series: the first with a record, or the baseline's if earlier; never after the report month.</summary>
    public static Month FirstMonth(AnalysisPlan plan, IEnumerable<Month> withRecords)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var first = withRecords.Append(plan.Month).Min();
        return plan.Baseline is var (from, _) && from < first ? from : first;
    }

    /// <summary>First of the plan's 12 months that end with the report month, or of as many as there are.</summary>
    public static Month FirstOfYear(AnalysisPlan plan, IEnumerable<Month> withRecords)
    {
        var first = FirstMonth(plan, withRecords);
        var from = plan.Month.AddMonths(1 - plan.Months);
        return from < first ? first : from;
    }
}
