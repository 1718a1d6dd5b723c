using System.Globalization;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Reporting;

namespace Outcomes.Tests.Reporting.Verdicts;

/// <summary>
/// Twelve departments of known truths: each has one verdict a month, that of the second program, and the page shows the last.
/// </summary>
public sealed class TwelveDepartmentsTests
{
    public static TheoryData<string> Departments => [.. TwelveDepartments.Names];

    [Theory]
    [MemberData(nameof(Departments))]
    public void Every_report_has_the_label_of_the_second_program(string department)
    {
        var reports = TwelveDepartments.Reference(department).ToArray();
        Assert.Equal(36, reports.Length);
        foreach (var (month, label) in reports)
        {
            var verdict = TwelveDepartments.Judge(department, month);
            // Here a short history grows until it has 40 cases; there it stays too short.
            if (department == "too_few" && verdict.Label != VerdictLabel.TooFewToJudge)
                Assert.True(month > reports[0].Month, $"{month}");
            else
                Assert.True(label == VerdictWording.Label(verdict), $"{month}: {label} there, {VerdictWording.Label(verdict)} here");
        }
    }

    [Fact]
    public void The_page_shows_what_each_department_was_told_first_and_what_it_is_told_last()
    {
        var page = File.ReadAllText(InRoot("docs", "statistics", "verdict.md"));
        var made = Path.Combine(AppContext.BaseDirectory, "verdict-table.md");
        File.WriteAllText(made, Table());
        Assert.True(page.Contains(Table(), StringComparison.Ordinal),
            $"docs/statistics/verdict.md does not hold the table that the departments make; copy {made} into it and read the difference");
    }

    private static readonly Dictionary<string, string> Truths = new(StringComparer.Ordinal)
    {
        ["stable"] = "15 % throughout",
        ["early_change"] = "18 %, 27 % from report 1; expected to stay the same",
        ["late_change"] = "15 %, 32 % from report 25; expected to stay the same",
        ["relapse"] = "22 %, 8 % from report 7, 28 % from report 22",
        ["drift"] = "15 % rising to 30 % over the 36 reports; a change declared to lower it",
        ["moved_mix"] = "care the same, hard cases (40 % against 12 %) from 25 to 60 in 100 from report 13; unadjusted",
        ["moved_missingness"] = "24 %, 9 % from report 13, with which a field of the case mix went missing",
        ["season"] = "10 to 20 % with the seasons; a change declared to lower it",
        ["one_bad_month"] = "15 %, 50 % in report 18; a change declared to lower it",
        ["capture_fell"] = "22 %, 7 % from report 13, with which six in ten procedures were recorded",
        ["too_few"] = "15 %, at most two cases a month",
        ["improvement_planned"] = "24 %, 10 % from report 19, as declared",
    };

    // A truth, what was told of it report by report, and the sentence of the first report that says more than no sign of change.
    private static string Table()
    {
        var text = new StringBuilder("| department | what is true | told, by report | first sentence |\n| --- | --- | --- | --- |\n");
        foreach (var department in TwelveDepartments.Names)
        {
            var verdicts = TwelveDepartments.Reference(department)
                .Select(each => TwelveDepartments.Judge(department, each.Month)).ToArray();
            var first = verdicts.FirstOrDefault(verdict => verdict.SaysChange || verdict.Label == VerdictLabel.NotShown);
            text.Append(CultureInfo.InvariantCulture,
                $"| {department.Replace('_', ' ')} | {Truths[department]} | {string.Join("; ", Told(verdicts))} ")
                .Append(CultureInfo.InvariantCulture, $"| {(first is null ? "" : Plain(first))} |\n");
        }

        return text.ToString();
    }

    // Reports of one label, as one stretch.
    private static IEnumerable<string> Told(Verdict[] verdicts)
    {
        for (var from = 0; from < verdicts.Length;)
        {
            var label = verdicts[from].Label;
            var to = from;
            while (to + 1 < verdicts.Length && verdicts[to + 1].Label == label)
                to++;
            yield return string.Create(CultureInfo.InvariantCulture,
                $"{from + 1}{(to > from ? $" to {to + 1}" : "")} {VerdictWording.Label(verdicts[from])}");
            from = to + 1;
        }
    }

    private static string Plain(Verdict verdict) =>
        VerdictWording.Full(verdict, Titles.Shipped).Replace(Wording.Space, " ", StringComparison.Ordinal);

    private static string InRoot(params string[] parts)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
            folder = folder.Parent;
        return Path.Combine([folder!.FullName, .. parts]);
    }
}
