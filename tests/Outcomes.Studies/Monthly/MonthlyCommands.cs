using System.Globalization;

namespace Outcomes.Studies.Monthly;

/// <summary>The commands that write rows of the study of the monthly test.</summary>
internal static class MonthlyCommands
{
    /// <param name="command">monthly: the study; monthly-tries: what is missing of the tries; monthly-fresh: the last of
    /// them on fresh seeds; conditions: the test under other conditions, in a file of its own.</param>
    /// <param name="file">The file of rows.</param>
    /// <param name="rest">Departments; none: the study's own.</param>
    public static void Run(string command, string file, string[] rest)
    {
        int Departments(int usual) => rest is [var number] ? int.Parse(number, CultureInfo.InvariantCulture) : usual;
        if (command == "conditions")
        {
            ConditionStudy.Write(file, rest);
            return;
        }
        if (command == "monthly")
        {
            Write(file, [MonthlyRow.Header], MonthlyStudy.Rows(Departments(MonthlyStudy.Departments), Console.Error.WriteLine));
            return;
        }
        string[] lines = [.. File.ReadLines(file)];
        if (command == "monthly-tries")
            Write(file, lines, MonthlyTries.Rows(Departments(MonthlyTries.Departments), MonthlyStudy.TriesSeed,
                [.. lines.Where(line => line.StartsWith("tries,", StringComparison.Ordinal)).Select(MonthlyRow.Parse)],
                Console.Error.WriteLine));
        else
            Write(file, lines.Where(line => !line.StartsWith("fresh ", StringComparison.Ordinal)),
                MonthlyTries.Fresh(Departments(MonthlyTries.FreshDepartments), MonthlyStudy.FreshSeed, Console.Error.WriteLine));
    }

    /// <summary>Writes lines, then rows as they come, so that a run that is stopped leaves what it has.</summary>
    private static void Write(string file, IEnumerable<string> lines, IEnumerable<MonthlyRow> rows)
    {
        using var writer = new StreamWriter(file) { AutoFlush = true, NewLine = "\n" };
        foreach (var line in lines.Concat(rows.Select(row => row.Line)))
            writer.WriteLine(line);
    }
}
