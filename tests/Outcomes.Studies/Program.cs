using Outcomes.Studies.Signals;

// signals FILE [DEPARTMENTS]: writes the study's rows; the same on any machine and any number of cores.
if (args is not ["signals", var file, .. var rest] || rest.Length > 1)
{
    Console.Error.WriteLine("usage: signals FILE [DEPARTMENTS]");
    return 2;
}
var departments = rest is [var number] ? int.Parse(number, System.Globalization.CultureInfo.InvariantCulture) : SignalStudy.Departments;
var rows = new List<StudyRow>();
foreach (var row in SignalStudy.Rows(departments, Console.Error.WriteLine))
    rows.Add(row);
File.WriteAllText(file, string.Concat(rows.Select(row => row.Line + "\n").Prepend(StudyRow.Header + "\n")));
Console.WriteLine(StudyTables.Markdown(rows));
return 0;
