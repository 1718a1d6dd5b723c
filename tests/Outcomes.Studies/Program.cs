using Outcomes.Studies.Signals;

// signals FILE [DEPARTMENTS]: writes the rows of the study of change signals, the same on any machine and any number of cores.
// tries FILE [DEPARTMENTS], beyond and mix likewise: the tries to beat the scheme alone; their rows take the place of the file's own.
// page FILE PAGE: puts the tables of these rows into the page, between its marks.
int departments;
switch (args)
{
    case ["signals", var file, .. { Length: <= 1 } rest]:
        departments = rest is [var number] ? int.Parse(number, System.Globalization.CultureInfo.InvariantCulture) : SignalStudy.Departments;
        var lines = SignalStudy.Rows(departments, Console.Error.WriteLine).Select(row => row.Line + "\n").Prepend(StudyRow.Header + "\n");
        File.WriteAllText(file, string.Concat(lines));
        return 0;
    case [("tries" or "beyond" or "mix") and var part, var file, .. { Length: <= 1 } rest]:
        departments = rest is [var some] ? int.Parse(some, System.Globalization.CultureInfo.InvariantCulture) : SignalStudy.Departments;
        string[] others = [.. File.ReadLines(file).Where(line => !line.StartsWith($"{part},", StringComparison.Ordinal))];
        Func<int, Action<string>, IEnumerable<StudyRow>> anew = part switch { "tries" => SignalStudy.TriesRows, "beyond" => SignalStudy.BeyondRows, _ => SignalStudy.MixRows };
        using (var writer = new StreamWriter(file) { AutoFlush = true, NewLine = "\n" })
            foreach (var line in others.Concat(anew(departments, Console.Error.WriteLine).Select(row => row.Line)))
                writer.WriteLine(line);
        return 0;
    case ["search"]:
        SmallUnits.Search(20_261_126);
        return 0;
    case ["page", var file, var page]:
        StudyRow[] rows = [.. File.ReadLines(file).Skip(1).Select(StudyRow.Parse)];
        File.WriteAllText(page, StudyTables.IntoPage(File.ReadAllText(page), rows));
        return 0;
    default:
        Console.Error.WriteLine("usage: signals FILE [DEPARTMENTS] | tries FILE [DEPARTMENTS] | beyond FILE [DEPARTMENTS] | mix FILE [DEPARTMENTS] | page FILE PAGE");
        return 2;
}
