using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>
/// Everything that a report draws, as numbers, states and definitions: no text, no drawing. Order is the order of printing.
/// </summary>
public sealed record Figures
{
    /// <summary>The pipeline's name.</summary>
    public required string PipelineName { get; init; }

    /// <summary>The report month.</summary>
    public required Month Month { get; init; }

    /// <summary>First and last month of the series: the charts' time axis.</summary>
    public required Month First { get; init; }

    public required Month Last { get; init; }

    public required DateOnly AsOf { get; init; }

    /// <summary>True when the report month is not over by <see cref="AsOf"/>.</summary>
    public bool Partial { get; init; }

    /// <summary>The last months of which records are still to come: drawn hollow, and not tested.</summary>
    public ImmutableArray<EntryCompleteness> Provisional { get; init; } = [];

    public Audience Audience { get; init; }

    /// <summary>True when the records are invented: every page says so.</summary>
    public bool Invented { get; init; }

    /// <summary>What people read in place of the names of fields and values.</summary>
    public Titles Titles { get; init; } = Titles.Shipped;

    /// <summary>The tool's version.</summary>
    public string Version { get; init; } = "";

    public required string DefinitionsHash { get; init; }

    public ImmutableArray<InputFile> Inputs { get; init; } = [];

    public ImmutableArray<Assumption> Assumptions { get; init; } = [];

    /// <summary>Accepted records in each month from <see cref="First"/> to <see cref="Last"/>.</summary>
    public required ImmutableArray<long> Procedures { get; init; }

    /// <summary>Who of them is counted, month by month like <see cref="Procedures"/>; empty where that was not asked.</summary>
    public ImmutableArray<Flow> Flows { get; init; } = [];

    /// <summary>Who is counted in the last 12 months; null where that was not asked.</summary>
    public Flow? YearFlow => FlowIn(YearFrom, Month);

    /// <summary>Who is counted, from one month to another, both included; null where that was not asked.</summary>
    public Flow? FlowIn(Month from, Month to) => Flows.IsEmpty ? null
        : Flows.Where((_, i) => First.AddMonths(i) >= from && First.AddMonths(i) <= to)
            .Aggregate(Flow.Empty, (sum, flow) => sum + flow);

    /// <summary>Records against an independent count; null when the pipeline names none.</summary>
    public CaptureFigures? Capture { get; init; }

    /// <summary>Records with a monitor trace in the last 12 months; null when the pipeline has no traces.</summary>
    public TraceFigures? Traces { get; init; }

    /// <summary>One row a file that came in.</summary>
    public ImmutableArray<Reconciliation> Reconciliations { get; init; } = [];

    /// <summary>Events of harm among all procedures; empty where no flag names one.</summary>
    public ImmutableArray<HarmFigures> Harm { get; init; } = [];

    /// <summary>Headline measures first, then the rest in catalogue order, those not collected included.</summary>
    public ImmutableArray<MeasureFigures> Measures { get; init; } = [];

    /// <summary>How much evidence a change signal asks for, as the pipeline chose before looking.</summary>
    public Pace Pace { get; init; } = Pace.Default;

    /// <summary>Declared changes, each with the measures that it should move, by date.</summary>
    public ImmutableArray<ChangeEvaluation> Changes { get; init; } = [];

    /// <summary>How many statements of change the report makes by chance in a year.</summary>
    public FalseStatements FalseStatements { get; init; } = new(0, 0, 0);

    /// <summary>Proportions too close to none or all for a run chart, case by case.</summary>
    public ImmutableArray<RareEvents> RareEvents { get; init; } = [];

    /// <summary>Control charts about the declared baseline; null where none were asked for.</summary>
    public ControlCharts? ControlCharts { get; init; }

    /// <summary>The sections of the report, in their order; those that cannot be answered say what is not collected.</summary>
    public ImmutableArray<SectionFigures> Sections { get; init; } = [];

    /// <summary>The section that this month makes worth reading; null without one that takes turns.</summary>
    public ChosenSection? Chosen { get; init; }

    /// <summary>One of them; null where it could not be counted.</summary>
    public SectionFigures? Section(string id) => Sections.FirstOrDefault(section => section.Id == id);

    /// <summary>The answers to saved questions.</summary>
    public ImmutableArray<QuestionAnswer> Answers { get; init; } = [];

    /// <summary>Headline proportions between sites; empty where the records hold fewer than two.</summary>
    public ImmutableArray<SiteComparison> Sites { get; init; } = [];

    /// <summary>The plan ladder of the last 12 months; null when no source says which plans were used.</summary>
    public PlanLadder? Ladder { get; init; }

    /// <summary>
    /// An interval of each plan's share of all starts, in the ladder's order; a record starts with one plan, so that the four are parts of
    /// one whole and their intervals hold together. Empty where no start is known.
    /// </summary>
    public ImmutableArray<Bounds> LadderShares { get; init; } = [];

    /// <summary>Measures against their case mix, where the pipeline asks for it.</summary>
    public ImmutableArray<CaseMixFigures> CaseMix { get; init; } = [];

    /// <summary>Findings by rule; see <see cref="FindingGroup.Of"/>.</summary>
    public ImmutableArray<FindingGroup> Findings { get; init; } = [];

    public ImmutableArray<FieldCompleteness> Completeness { get; init; } = [];

    /// <summary>What is missing and what to ask for, worst first.</summary>
    public ImmutableArray<DataQuestion> Questions { get; init; } = [];

    /// <summary>How completely each headline measure could be judged in the last 12 months.</summary>
    public ImmutableArray<MeasureCompleteness> MeasureCompleteness { get; init; } = [];

    /// <summary>New cases for review by kind; empty where no cases are made.</summary>
    public ImmutableArray<ReviewCount> Review { get; init; } = [];

    /// <summary>The department's actions as of <see cref="AsOf"/>.</summary>
    public ActionState Actions { get; init; } = ActionState.None;

    /// <summary>What the meeting before this month's learned; null where nothing was written.</summary>
    public MeetingLearning? Learning { get; init; }

    public ImmutableArray<RuleNotRun> RulesNotRun { get; init; } = [];

    /// <summary>First month of the twelve that end with the report month, or of as many as there are.</summary>
    public Month YearFrom => Month.AddMonths(-11) < First ? First : Month.AddMonths(-11);

    /// <summary>Accepted records from one month to another, both included.</summary>
    public long ProceduresIn(Month from, Month to)
    {
        long sum = 0;
        for (var i = 0; i < Procedures.Length; i++)
        {
            var month = First.AddMonths(i);
            if (month >= from && month <= to)
                sum += Procedures[i];
        }

        return sum;
    }
}
