using System.Collections.Immutable;
using Outcomes.Measures;
using ScottPlot;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// Draws the plan ladder as a staircase: a box a plan, going down from A to D and on to the exits that were taken. Ways onward
/// leave a box to the right and come in from above; ways back leave to the left and come in from below.
/// </summary>
internal static class LadderPlot
{
    public const int Width = 840;
    private const double BoxWidth = 144, BoxHeight = 56, First = 66, Drop = 74;

    private static readonly ImmutableDictionary<string, string> Names = new Dictionary<string, string>
    {
        ["A"] = "laryngoscopy",
        ["B"] = "supraglottic airway",
        ["C"] = "facemask",
        ["D"] = "front of neck",
        ["woken"] = "woken",
        ["died"] = "died",
    }.ToImmutableDictionary(StringComparer.Ordinal);

    public static void Draw(Sheet sheet, PlanLadder ladder, string period)
    {
        sheet.Text("Plan ladder", 0, 15, 18, Ink.Black, bold: true);
        sheet.Text($"{Wording.Some(ladder.Records, "emergency record")}, {period} · black: onward, blue: "
            + $"back · numbers on the arrows are records",
            0, 39, 13, Ink.Quiet);
        var plans = Boxes(ladder);
        var pitch = plans.Count < 2 ? 0 : (Width - BoxWidth - 2) / (plans.Count - 1.0);
        (double Left, double Top) Corner(int i) => (1 + (i * pitch), First + (i * Drop));

        var ways = ladder.Steps
            .Select(step => new Way(plans.IndexOf(step.From), plans.IndexOf(step.To), step.Records))
            .Where(way => way.From >= 0 && way.To >= 0 && way.From != way.To)
            .OrderBy(way => way.From).ThenBy(way => way.To).ToList();
        foreach (var way in ways)
        {
            // Near ways leave low and come in at the near side, far ones high and at the far side: those from one box never cross.
            var leaves = ways.Count(other => other.From == way.From && other.Onward == way.Onward && other.Span < way.Span);
            var enters = ways.Count(other => other.To == way.To && other.Onward == way.Onward && other.Span < way.Span);
            (way.Onward ? (Action<Sheet, Way, (double, double), (double, double), int, int>)Onward : Back)(
                sheet, way, Corner(way.From), Corner(way.To), leaves, enters);
        }

        for (var i = 0; i < plans.Count; i++)
            Box(sheet, ladder, plans[i], Corner(i).Left, Corner(i).Top);
    }

    /// <summary>A staircase with an exit more is a step taller.</summary>
    public static int Height(PlanLadder ladder) => (int)(First + ((Boxes(ladder).Count - 1) * Drop) + BoxHeight + 4);

    private static List<string> Boxes(PlanLadder ladder) =>
        [
            .. ladder.Plans.Select(plan => plan.Plan),
            .. ladder.Steps.Select(step => step.To).Except(ladder.Plans.Select(plan => plan.Plan)).OrderDescending(StringComparer.Ordinal)
        ];

    private readonly record struct Way(int From, int To, long Records)
    {
        public bool Onward => To > From;

        public int Span => Math.Abs(To - From);
    }

    private static void Onward(Sheet sheet, Way way, (double Left, double Top) from, (double Left, double Top) to, int leaves, int enters)
    {
        var y = from.Top + BoxHeight - 11 - (13 * leaves);
        var x = to.Left + 46 + (32 * enters);
        sheet.Path([(from.Left + BoxWidth, y), (x, y), (x, to.Top - 2)], Ink.Black, 1.3f);
        sheet.Tip(x, to.Top - 1, 0, 1, Ink.Black);
        sheet.Text(Wording.Number(way.Records), x + 5, to.Top - 17, 13, Ink.Black, bold: true);
    }

    private static void Back(Sheet sheet, Way way, (double Left, double Top) from, (double Left, double Top) to, int leaves, int enters)
    {
        var y = from.Top + 13 + (13 * leaves);
        var x = to.Left + BoxWidth - 22 - (32 * enters);
        sheet.Path([(from.Left, y), (x, y), (x, to.Top + BoxHeight + 2)], Ink.Accent, 1.3f);
        sheet.Tip(x, to.Top + BoxHeight + 1, 0, -1, Ink.Accent);
        sheet.Text(Wording.Number(way.Records), x - 5, to.Top + BoxHeight + 17, 13, Ink.Accent, Alignment.MiddleRight, bold: true);
    }

    private static void Box(Sheet sheet, PlanLadder ladder, string plan, double left, double top)
    {
        sheet.Box(left, top, BoxWidth, BoxHeight, Ink.Wash, Ink.Accent, 1.4f);
        if (ladder.Plans.FirstOrDefault(one => one.Plan == plan) is not { } used)
        {
            sheet.Text(Name(plan), left + 10, top + 19, 14, Ink.Black, bold: true);
            sheet.Text(Wording.Some(ladder.Steps.Where(step => step.To == plan).Sum(step => step.Records), "record"), left + 10,
                top + 41, 12, Ink.Black);
            return;
        }

        sheet.Text(plan, left + 10, top + 19, 16, Ink.Black, bold: true);
        sheet.Text(Name(plan), left + 27, top + 19, 11, Ink.Quiet);
        sheet.Text(Success(used), left + 10, top + 41, 12, Ink.Black);
    }

    private static string Success(PlanUse plan) => plan.Used == 0 ? "not used"
        : plan.OutcomeKnown == 0 ? $"used {Wording.Number(plan.Used)}, outcome unknown"
        : $"succeeded {Wording.Number(plan.Succeeded)}/{Wording.Number(plan.OutcomeKnown)}";

    /// <summary>What a plan is, in a word or two.</summary>
    public static string Name(string plan) => Names.GetValueOrDefault(plan, plan);

    public static string Describe(PlanLadder ladder) =>
        "Plan ladder. " + string.Join(" ", ladder.Plans.Select(plan =>
            $"Plan {plan.Plan}, {Name(plan.Plan)}: used {plan.Used}, succeeded {plan.Succeeded} of {plan.OutcomeKnown}.")) + " " +
        string.Join(" ", ladder.Steps.Select(step => $"{step.From} to {step.To}: {step.Records}."));
}
