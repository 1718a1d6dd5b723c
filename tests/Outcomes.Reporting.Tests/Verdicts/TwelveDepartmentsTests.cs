using System.Globalization;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Reporting;

namespace Outcomes.Tests.Reporting.Verdicts;

/// <summary>Twelve departments of known truths: each has one verdict a month, that of the second program, and the page shows the last.</summary>
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

    // A truth, and what was told of it: the first report that says more than no sign of change, and the last report.
    private static string Table()
    {
        var text = new StringBuilder("| department | first told in report | sentence | told in report 36 |\n| --- | ---: | --- | --- |\n");
        foreach (var department in TwelveDepartments.Names)
        {
            var verdicts = TwelveDepartments.Reference(department).Select(each => TwelveDepartments.Judge(department, each.Month)).ToArray();
            var first = Array.FindIndex(verdicts, verdict => verdict.SaysChange || verdict.Label == VerdictLabel.NotShown);
            text.Append(CultureInfo.InvariantCulture, $"| {department.Replace('_', ' ')} | {(first < 0 ? "" : $"{first + 1}")} ");
            text.Append(CultureInfo.InvariantCulture, $"| {(first < 0 ? "" : Plain(verdicts[first]))} ");
            text.Append(CultureInfo.InvariantCulture, $"| {VerdictWording.Label(verdicts[^1])} |\n");
        }

        return text.ToString();
    }

    private static string Plain(Verdict verdict) =>
        VerdictWording.Caption(verdict, Titles.Shipped).Replace(Wording.Space, " ", StringComparison.Ordinal);

    private static string InRoot(params string[] parts)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
            folder = folder.Parent;
        return Path.Combine([folder!.FullName, .. parts]);
    }
}
