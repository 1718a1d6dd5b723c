using Outcomes.Studies;
using Outcomes.Studies.CaseMix;
using Outcomes.Studies.Coverage;
using Outcomes.Studies.Monthly;
using Outcomes.Studies.Signals;
using Outcomes.Studies.UnusualRecords;

// signals FILE [DEPARTMENTS]: writes the rows of the study of change signals, the same on any machine and any number of cores.
// tries FILE [DEPARTMENTS], beyond and mix likewise: the tries to beat the scheme alone; their rows take the place of the file's own.
// small FILE likewise; paces FILE: the rows that hang on the limits of the paces, anew and in their places.
// monthly FILE [DEPARTMENTS]: writes the rows of the study of the monthly test and the planned comparison, on one thread.
// monthly-tries FILE [DEPARTMENTS]: other tests at one budget, added where the file lacks them; monthly-fresh FILE [DEPARTMENTS]:
// the last of them beside the three on fresh seeds, anew.
// conditions FILE [SHARE]: writes the rows of the monthly test under other conditions, on one thread.
// casemix FILE [DEPARTMENTS]: writes the rows of the study of case mix, on one thread.
// intervals FILE [DEPARTMENTS]: writes how often the intervals of pages hold where months vary, on one thread.
// unusual FILE [SHARE]: writes the rows of the study of unusual records, from this share of its departments.
// batch: runs the tool for every line of the input, a JSON list of arguments, and answers with its exit code and what went wrong.
// page FILE PAGE: puts the tables of these rows into the page, between its marks.
int departments;
switch (args)
{
    case ["signals", var file, .. { Length: <= 1 } rest]:
        departments = rest is [var number] ? int.Parse(number, System.Globalization.CultureInfo.InvariantCulture) : SignalStudy.Departments;
        var lines = SignalStudy.Rows(departments, Console.Error.WriteLine).Select(row => row.Line + "\n").Prepend(StudyRow.Header + "\n");
        File.WriteAllText(file, string.Concat(lines));
        return 0;
    case [("tries" or "beyond" or "mix" or "small") and var part, var file, .. { Length: <= 1 } rest]:
        departments = rest is [var some] ? int.Parse(some, System.Globalization.CultureInfo.InvariantCulture) : SignalStudy.Departments;
        string[] others = [.. File.ReadLines(file).Where(line => !line.StartsWith($"{part},", StringComparison.Ordinal))];
        Func<int, Action<string>, IEnumerable<StudyRow>> anew = part switch
        {
            "tries" => SignalStudy.TriesRows,
            "beyond" => SignalStudy.BeyondRows,
            "small" => SignalStudy.SmallRows,
            _ => SignalStudy.MixRows
        };
        using (var writer = new StreamWriter(file) { AutoFlush = true, NewLine = "\n" })
            foreach (var line in others.Concat(anew(departments, Console.Error.WriteLine).Select(row => row.Line)))
                writer.WriteLine(line);
        return 0;
    case ["paces", var file]:
        // In their places, so that the file stays in the order of a whole run.
        var fresh = SignalStudy.PaceRows(SignalStudy.Departments, Console.Error.WriteLine)
            .ToDictionary(row => (row.Part, row.Volume, row.History, row.Scheme, row.Figure));
        StudyRow[] kept = [.. File.ReadLines(file).Skip(1).Select(StudyRow.Parse)];
        File.WriteAllText(file,
            string.Concat(kept.Select(row => fresh.GetValueOrDefault((row.Part, row.Volume, row.History, row.Scheme, row.Figure)) ?? row)
                .Select(row => row.Line + "\n").Prepend(StudyRow.Header + "\n")));
        return 0;
    case ["unusual", var file, .. { Length: <= 1 } rest]:
        UnusualRecordStudy.Write(file, rest);
        return 0;
    case [("monthly" or "monthly-tries" or "monthly-fresh" or "conditions") and var command, var file, .. { Length: <= 1 } rest]:
        MonthlyCommands.Run(command, file, rest);
        return 0;
    case [("casemix" or "intervals") and var study, var file, .. { Length: <= 1 } rest]:
        (study == "casemix" ? (Action<string, string[]>)CaseMixStudy.Write : PageIntervalStudy.Write)(file, rest);
        return 0;
    case ["batch"]:
        return Batch.Run(Console.In, Console.Out);
    case ["page", var file, var page]:
        var made = File.ReadLines(file).First() switch
        {
            UnusualRow.Header => UnusualTables.Markdown([.. File.ReadLines(file).Skip(1).Select(UnusualRow.Parse)]),
            CaseMixRow.Header => CaseMixTables.Markdown([.. File.ReadLines(file).Skip(1).Select(CaseMixRow.Parse)]),
            MonthlyRow.Header => MonthlyTables.Markdown([.. File.ReadLines(file).Skip(1).Select(MonthlyRow.Parse)]),
            _ => StudyTables.Markdown([.. File.ReadLines(file).Skip(1).Select(StudyRow.Parse)]),
        };
        File.WriteAllText(page, StudyTables.IntoPage(File.ReadAllText(page), made));
        return 0;
    default:
        Console.Error.WriteLine("usage: signals FILE [DEPARTMENTS] | tries FILE [DEPARTMENTS] | beyond FILE [DEPARTMENTS] | mix FILE "
            + "[DEPARTMENTS] | small FILE [DEPARTMENTS] | paces FILE | monthly FILE [DEPARTMENTS] | monthly-tries FILE [DEPARTMENTS] | "
            + "monthly-fresh FILE [DEPARTMENTS] | conditions FILE [SHARE] | "
            + "casemix FILE [DEPARTMENTS] | unusual FILE [SHARE] | page FILE PAGE | batch");
        return 2;
}
