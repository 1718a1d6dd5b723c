using Outcomes.Studies.Signals;

namespace Outcomes.Tests;

/// <summary>The committed rows of the study of change signals.</summary>
internal static class StudyFile
{
    public static IReadOnlyList<StudyRow> Rows { get; } =
        [.. Read("signals-study.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(StudyRow.Parse)];

    public static StudyRow Find(string part, double volume, int history, string scheme, string figure) =>
        Rows.Single(row => row.Part == part && row.Volume == volume && row.History == history && row.Scheme == scheme
            && row.Figure == figure);

    /// <summary>A page of docs/statistics.</summary>
    public static string Read(string page)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
                return File.ReadAllText(Path.Combine(folder.FullName, "docs", "statistics", page)).ReplaceLineEndings("\n");
        throw new FileNotFoundException($"{page}: no Outcomes.sln above {AppContext.BaseDirectory}");
    }
}
