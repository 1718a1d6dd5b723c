using System.Globalization;
using Bogus;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>
/// Cells of an export that identify nobody, many of them on purpose like ones that do: a kind a name, so that false alarms
/// can be told apart.
/// </summary>
internal static class CleanCells
{
    private static readonly string[] Sentences =
    [
        "Grade {0} view with videolaryngoscope, bougie passed at second look", "RSI with ketamine {1} mg and rocuronium {2} mg",
        "ETT {3} at {4} cm at the teeth", "Desaturated to {5} %, mask ventilation, recovered in {6} s", "Plan A failed, Plan B second "
            + "generation supraglottic size {0}", "BP {1}/{5} before induction, metaraminol x{0}", "Waveform CO2 seen, {3} kPa",
        "MAC {0} blade, then hyperangulated", "Cuff pressure {4} cmH2O", "Night shift, two operators, senior on the way at {6}:15",
        "Suction failed, changed at {7}", "Trauma call, collar on, in-line stabilisation", "Transferred to CT after tube, then theatre {0}",
        "Noradrenaline {3} ml/h started, lactate {3}", "Size {3} tube too large; {3} used", "Intubated on {7}, extubated after {0} days",
        "Capnography line kinked, replaced", "SpO2 {5}-{4}% on NRB 15 l/min", "Reviewed at M&M {7}", "COPD, T2RF, pH 7.{6}",
        "Checklist done, roles given out, kit dump used", "ICU bed space ready, porter called", "Not recorded",
        "Vomited during laryngoscopy, aspiration suspected", "GCS E{0}V1M{0}, pupils equal", "Drug error: none. Debrief done.",
        "Consultant present from start", "Difficult Airway Trolley in Resus", "Airtraq tried first", "Cormack Lehane grade {0}, "
            + "Mallampati {0}", "McGrath Mac {0} then Macintosh {0}", "Frova Introducer, Cook Staged set", "Failed x{0}, Second Operator, "
                + "Third Attempt by Consultant", "Miss at first pass, oesophageal, seen at once", "Dr present; Mr scan booked",
        "Patient Difficult To Oxygenate", "Handed Over To Night Team", "Sats 8{0} Despite Apnoeic Oxygen", "Kit Check Done {7}",
        "Born by section, mother in theatre", "Case {6} of {1} this year", "Version {0}.{0}.{0}.{0} of form", "Read at 10.15 at bedside. "
            + "Com on table", "Bleep 1st on call", "ext jugular line {4} G", "Known Pierre Robin sequence", "Ludwig angina, fibreoptic",
        "Guillain Barre, FVC {3}", "Le Fort {0} fracture", "Down syndrome, Atlanto Axial instability", "Intubated By Anaesthetic Registrar",
        "Roc 1.2 mg/kg, Ket 1 mg/kg", "Weight {2} kg, Height 1{5} cm", "Bed 12 Side Room B", "Lot {1}{1}{5}",
    ];

    /// <summary>The kinds, and how a cell of each is drawn.</summary>
    public static readonly (string Kind, Func<Faker, string> Draw)[] Kinds =
    [
        ("sentence", faker => Sentence(faker)),
        ("sentence", faker => Sentence(faker)),
        ("sentence", faker => Sentence(faker)),
        ("date or time of an event", faker => When(faker).ToString(faker.PickRandom("yyyy-MM-dd", "dd/MM/yyyy", "dd/MM/yyyy HH:mm",
            "yyyy-MM-ddTHH:mm:ss", "d MMM yyyy", "dd-MMM-yy", "HH:mm", "ddMMyyyy", "dd.MM.yy", "yyyyMMdd", "d/M/yy"),
            CultureInfo.InvariantCulture)),
        ("whole number", faker => faker.Random.Number(0, 10_000_000).ToString(CultureInfo.InvariantCulture)),
        ("decimal", faker => faker.Random.Double(0, 200)
            .ToString(faker.PickRandom("0.##", "0.0000000000", "0.###E+0"), CultureInfo.InvariantCulture)),
        ("dose, range or duration", faker => string.Create(CultureInfo.InvariantCulture,
            $"{faker.PickRandom("ketamine ", "Rocuronium ", "", "Propofol ", "Fentanyl ")}{faker.Random.Int(1, 400)}"
                + $"{faker.PickRandom(" mg", "mcg", "-", " to ", " min ", "/", "x", ":")}{faker.Random.Int(1, 400)}"
                + $"{faker.PickRandom("", " mg", " s", " kPa", "%")}")),
        ("place or ward code", faker => faker.PickRandom("icu", "ED resus 2", "ward 7B", "Theatre 3", "N/A", "unknown", "bay 12", "CT 1",
            "PICU-2", "W12A", "E1 West", "RXX01", "Main Theatre", "Side Room", "High Dependency", "Northfield Ward", "Larch Unit",
            "Fenwick General", "Saint Elsewhere Hospital", "A&E", "G5 bay 2", "L4 ITU", "N1 6 bed bay", "B12 3rd floor")),
        ("random identifier of a system",
            faker => faker.PickRandom(faker.Random.Guid().ToString(), faker.Random.Hash(), faker.Random.Hexadecimal(12, ""))),
        ("ten digits", faker => faker.Random.Replace("##########")),
        ("code of a device, lot or catalogue",
            faker => faker.Random.Replace(faker.PickRandom("?##.#", "?##", "V#.##.#", "SN-####-####", "#########", "LOT ######",
                "LOT######", "REF ????####", "###-###-##", "??##-###", "#############", "SN########", "EQ######", "?####", "##?###"))),
        ("device or drug", faker => faker.PickRandom("Glidescope Titanium", "Storz C-MAC", "Karl Storz Videolaryngoscope", "Macintosh 4",
            "Miller Blade", "Frova Introducer", "Eschmann Bougie", "Cook Exchange Catheter", "i-gel 4", "ProSeal LMA", "Ambu aScope 4",
            "Larch Scope 3", "Hazel View HV-2", "Suxamethonium", "Adrenaline 1:10,000", "Atracurium Besilate", "Magnesium Sulphate",
            "Sodium Bicarbonate", "Hartmann's Solution", "Pentax AWS", "Bullard Laryngoscope", "Melker Kit", "Portex Tube",
            "Rüsch Tube", "Shiley Cuffed")),
        ("clinical code", faker => faker.Random.Replace(faker.PickRandom("J##.#", "S##.#X", "X##.#", "E##.#", "####0060##", "1########",
            "3#####00#", "2#######00#", "??#####"))),
        ("word of a form", faker => faker.PickRandom("Emergency Department", "Senior Trainee", "Not Applicable", "Yes", "Rapid Sequence",
            "Consultant", "Awake Fibreoptic", "White British", "Head Injury", "Septic Shock", "Night 00:00-07:59", "20:00-07:59", "00-08",
            "Overnight (20-08)", "Airway Obstruction", "Type 2 Respiratory Failure", "Physician Associate", "Locum Registrar", "First Pass",
            "Post Cardiac Arrest", "Status Epilepticus", "Elective Surgery", "Nurse In Charge", "Any Other Background", "Black Caribbean",
            "Church Of England", "Roman Catholic", "Self Discharge", "Acute Medical Unit", "Tube Exchange")),
        ("invented prose", faker => faker.Lorem.Sentence(faker.Random.Int(2, 9))),
    ];

    public static string Sentence(Faker faker)
    {
        var when = When(faker);
        return string.Format(
            CultureInfo.InvariantCulture, faker.PickRandom(Sentences), faker.Random.Int(1, 4), faker.Random.Int(50, 200),
            faker.Random.Int(30, 120), faker.PickRandom("6.5", "7.0", "7.5", "8.0"), faker.Random.Int(20, 30), faker.Random.Int(60,
                99), faker.Random.Int(10, 90), when.ToString(faker.PickRandom("dd/MM/yyyy", "d MMM yyyy", "dd/MM/yy", "HH:mm"),
                    CultureInfo.InvariantCulture));
    }

    public static DateTime When(Faker faker) => faker.Date.Between(new DateTime(2019, 1, 1), new DateTime(2026, 3, 31));
}
