using System.Collections.Immutable;
using Outcomes.Measures.Yaml;
using Outcomes.Records;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Form;

/// <summary>One time of the procedure and the fields that are asked for then, in order.</summary>
public sealed record FormStage(string Id, string Title, ImmutableArray<Field> Fields);

/// <summary>A field that is asked only where another has one of some values.</summary>
public sealed record AskedIf(string Field, ImmutableArray<string> Values);

/// <summary>Which fields the form asks for, when, and in which order: the dictionary and <c>form.yaml</c>.</summary>
/// <param name="Stages">The stages in the order of time.</param>
/// <param name="Attempts">The fields of an attempt.</param>
/// <param name="LeftOut">Fields that the form never asks for, and why.</param>
/// <param name="AskedIf">Fields that depend on another, by name.</param>
public sealed record FormPlan(
    ImmutableArray<FormStage> Stages, ImmutableArray<Field> Attempts, ImmutableDictionary<string, string> LeftOut,
    ImmutableDictionary<string, AskedIf> AskedIf)
{
    private const string OwnStage = "own";

    private static readonly Lazy<FormPlan> ShippedOnce = new(() => For(FieldDictionary.Shipped));

    /// <summary>The fields that only the department has.</summary>
    public ImmutableArray<Field> Own { get; init; } = [];

    /// <summary>Fields that the second side of the paper form asks for beside the core ones of its first.</summary>
    public ImmutableArray<Field> PaperFields { get; init; } = [];

    /// <summary>The columns of the paper form's table of attempts.</summary>
    public ImmutableArray<Field> PaperAttempts { get; init; } = [];

    /// <summary>True where a department chose the fields of records, so that none is folded away.</summary>
    public bool FieldsChosen { get; init; }

    /// <summary>The same for attempts.</summary>
    public bool AttemptsChosen { get; init; }

    /// <summary>The form of the shipped dictionary.</summary>
    public static FormPlan Shipped => ShippedOnce.Value;

    /// <summary>
    /// True for what every form asks for: the core fields, the plan ladder, and how long the lowest values were looked for.
    /// </summary>
    public static bool IsAlwaysAsked(Field field)
    {
        ArgumentNullException.ThrowIfNull(field);
        return field.Core || field.Required || (field.Table == FieldDictionary.Procedure
            && field.Name is "plan_a" or "plan_b" or "plan_c" or "plan_d" or "observation_window");
    }

    /// <summary>
    /// The shipped order for a dictionary. A department's own fields of records have a stage of their own at the end, those of attempts
    /// stand at the end of the row, and paper asks for both.
    /// </summary>
    public static FormPlan For(FieldDictionary dictionary)
    {
        ArgumentNullException.ThrowIfNull(dictionary);
        var plan = Read(EmbeddedFile.Text("form.yaml"), "form.yaml", dictionary);
        var placed = plan.Stages.SelectMany(stage => stage.Fields).Select(field => field.Name).Concat(plan.LeftOut.Keys)
            .ToHashSet(StringComparer.Ordinal);
        var own = dictionary.Of(FieldDictionary.Procedure)
            .Where(field => !placed.Contains(field.Name) && !FieldDictionary.IsFromTraces(field)
                && field.Identifying != Identifying.DirectRisk).ToImmutableArray();
        var ownOfAttempts = dictionary.Of(FieldDictionary.Attempt)
            .Where(field => !plan.Attempts.Contains(field) && !plan.LeftOut.ContainsKey(field.Name) && !field.Required
                && field.Identifying != Identifying.DirectRisk).ToImmutableArray();
        return plan with
        {
            Stages = own.IsEmpty ? plan.Stages : plan.Stages.Add(new FormStage(OwnStage, "Fields of the department", own)),
            Attempts = plan.Attempts.AddRange(ownOfAttempts),
            PaperFields = plan.PaperFields.AddRange(own.Where(field => !IsAlwaysAsked(field))),
            PaperAttempts = plan.PaperAttempts.AddRange(ownOfAttempts),
            Own = [.. own, .. ownOfAttempts],
        };
    }

    /// <summary>
    /// The plan cut down to the fields that a department names, on screen and on paper. What every form asks for stays, and so do the
    /// department's own fields and the question that a named field depends on.
    /// </summary>
    /// <param name="fields">Names of fields of records; null keeps all.</param>
    /// <param name="attempts">Names of fields of attempts; null keeps all.</param>
    public FormPlan Only(IReadOnlySet<string>? fields, IReadOnlySet<string>? attempts)
    {
        var plan = this;
        if (fields is not null)
        {
            var before = fields.Where(AskedIf.ContainsKey).Select(name => AskedIf[name].Field).ToHashSet(StringComparer.Ordinal);
            var kept = Stages.Select(
                stage => stage with { Fields = [.. stage.Fields.Where(field => Stays(field, fields) || before.Contains(field.Name))] })
                .Where(stage => !stage.Fields.IsEmpty).ToImmutableArray();
            plan = plan with
            {
                Stages = kept,
                FieldsChosen = true,
                PaperFields = [.. kept.SelectMany(stage => stage.Fields).Where(field => !IsAlwaysAsked(field))]
            };
        }

        if (attempts is null) return plan;
        var rows = Attempts.Where(field => Stays(field, attempts)).ToImmutableArray();
        return plan with { Attempts = rows, PaperAttempts = rows, AttemptsChosen = true };
    }

    private bool Stays(Field field, IReadOnlySet<string> named) =>
        IsAlwaysAsked(field) || Own.Contains(field) || named.Contains(field.Name);

    /// <summary>
    /// The plan in the text of a <c>form.yaml</c>; a field that the dictionary lacks is a <see cref="Failure"/> with file and line.
    /// </summary>
    public static FormPlan Read(string text, string file, FieldDictionary dictionary)
    {
        ArgumentNullException.ThrowIfNull(dictionary);
        var root = YamlFile.Read(text, file).Map("stages", "attempts", "left_out", "asked_if", "paper");
        var paper = root.Required("paper").Map("fields", "attempts");
        var stages = root.Required("stages").Items().Select(node =>
        {
            var stage = node.Map("id", "title", "fields");
            return new FormStage(stage.Text("id"), stage.Text("title"),
                Fields(dictionary, FieldDictionary.Procedure, stage.Required("fields")));
        });
        return new FormPlan(
            [.. stages], Fields(dictionary, FieldDictionary.Attempt, root.Required("attempts")), Texts(root.Optional("left_out")),
            Pairs(root.Optional("asked_if")).ToImmutableDictionary(pair => pair.Key, pair =>
            {
                var on = pair.Value.Map("field", "is");
                return new AskedIf(on.Text("field"), [.. on.Required("is").Texts()]);
            }))
        {
            PaperFields = Fields(dictionary, FieldDictionary.Procedure, paper.Required("fields")),
            PaperAttempts = Fields(dictionary, FieldDictionary.Attempt, paper.Required("attempts")),
        };
    }

    /// <summary>
    /// The names in conditions that the page can give a value: what it asks for, what follows from its attempt rows, and the date.
    /// </summary>
    public ImmutableHashSet<string> Names() =>
    [
        "as_of", "attempts_contiguous", "intubation_attempts", "attempt_successes", "plan_a_attempts", "plan_b_attempts", "plan_c_attempts",
        "plan_d_attempts", "attempts_duration_s", "attempt_spo2_min", "attempt_oesophageal", .. Stages.SelectMany(stage => stage.Fields)
            .SelectMany(field => Column.Of(field)).Select(column => column.Name), .. Attempts.SelectMany(field => Column.Of(field))
                .SelectMany(column => (string[])[$"attempt1_{column.Name}", $"attempt2_{column.Name}"]),
    ];

    private static IEnumerable<(string Key, YamlNode Value)> Pairs(YamlNode? node) => node?.Pairs() ?? [];

    private static ImmutableDictionary<string, string> Texts(YamlNode? node) =>
        Pairs(node).ToImmutableDictionary(pair => pair.Key, pair => pair.Value.Text());

    private static ImmutableArray<Field> Fields(FieldDictionary dictionary, string table, YamlNode list) =>
        [.. list.Texts().Select(name => dictionary.Find(table, name) ?? throw list.Wrong($"`{name}` is no field of a {table}"))];
}
