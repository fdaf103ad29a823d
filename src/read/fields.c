#include "read/fields.h"

#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "base/nearest.h"
#include "read/roles.h"

struct role_row {
    const char *name;
    enum field_kind kind;
};

static const struct role_row role_rows[FIELD_ROLES] = {
#define X(code, name, kind) [ROLE_##code] = {name, FIELD_##kind},
    FIELD_ROLE_MAP(X)
#undef X
};

const char *field_role_name(enum field_role role)
{
    return role_rows[role].name;
}

enum field_kind field_role_kind(enum field_role role)
{
    return role_rows[role].kind;
}

enum outlay_status fields_init(struct fields *fields, const char *const *specs,
                               struct outlay_error *err)
{
    *fields = (struct fields){0};
    for (int role = 0; role < FIELD_ROLES; role++) {
        fields->roles[role] = (struct field){.column = -1, .unit = "", .factor = 1};
        if (!specs[role])
            continue;
        fields->specs[role] = strdup(specs[role]);
        if (!fields->specs[role]) {
            fields_release(fields);
            return outlay_fail(err, OUTLAY_E_MEMORY, "keeping the field roles");
        }
    }
    return OUTLAY_OK;
}

void fields_release(struct fields *fields)
{
    for (int role = 0; role < FIELD_ROLES; role++)
        free(fields->specs[role]);
    for (size_t i = 0; i < fields->column_count; i++)
        free(fields->columns[i]);
    free(fields->columns);
    *fields = (struct fields){0};
}

enum outlay_status fields_add(struct fields *fields, const char *column,
                              struct outlay_error *err)
{
    char **columns;
    char *copy;

    if (fields->column_count == FIELDS_COLUMNS_MAX)
        return OUTLAY_OK;
    columns = grow(fields->columns, fields->column_count, 1, &fields->column_capacity,
                   sizeof *columns);
    if (!columns)
        return outlay_fail(err, OUTLAY_E_MEMORY, "keeping the column names");
    fields->columns = columns;
    copy = strdup(column);
    if (!copy)
        return outlay_fail(err, OUTLAY_E_MEMORY, "keeping the column names");
    fields->columns[fields->column_count++] = copy;
    return OUTLAY_OK;
}

/* The column of that name, letters as they are if there is one such, else of any case;
 * -1 for none. Only the first `length` bytes of name count. */
static int find_column(const struct fields *fields, const char *name, size_t length)
{
    int found = -1;

    for (size_t i = 0; i < fields->column_count; i++) {
        const char *column = fields->columns[i];

        if (strlen(column) != length)
            continue;
        if (memcmp(column, name, length) == 0)
            return (int)i;
        if (found < 0) {
            size_t same = 0;
            char a[2] = {0}, b[2] = {0};

            for (; same < length; same++) {
                a[0] = column[same];
                b[0] = name[same];
                if (!same_column(a, b))
                    break;
            }
            if (same == length)
                found = (int)i;
        }
    }
    return found;
}

static bool has_column(const struct fields *fields, const char *name)
{
    return find_column(fields, name, strlen(name)) >= 0;
}

static size_t count_columns(const struct fields *fields, const char *const *names)
{
    size_t found = 0;

    for (; *names; names++)
        found += has_column(fields, *names);
    return found;
}

/* "height_ft" is "height" in ft. Sets field's unit when `column` is `base` and a suffix
 * that the role can have. */
static bool match_with_unit(enum field_role role, const char *base, const char *column,
                            struct field *field)
{
    const char *underscore = strrchr(column, '_');
    size_t length = strlen(base);
    const char *unit;

    if (!underscore || (size_t)(underscore - column) != length)
        return false;
    for (size_t i = 0; i < length; i++) {
        char a[2] = {base[i], '\0'}, b[2] = {column[i], '\0'};

        if (!same_column(a, b))
            return false;
    }
    unit = suffix_unit(underscore + 1);
    return unit && role_unit(role, unit, field);
}

/* The unit that a column tells by its own name. */
static bool unit_of_suffix(enum field_role role, const char *column, struct field *field)
{
    const char *underscore = strrchr(column, '_');
    const char *unit = underscore ? suffix_unit(underscore + 1) : NULL;

    return unit && role_unit(role, unit, field);
}

/* The schema that documents this column of this layer; NULL. */
static const struct schema *schema_of(const struct fields *fields, enum field_role role,
                                      const char *column)
{
    for (const struct schema *schema = known_schemas(); schema->name; schema++) {
        if (schema->role == role && same_column(schema->column, column) &&
            count_columns(fields, schema->evidence) > 0)
            return schema;
    }
    return NULL;
}

static bool unit_of_schema(const struct fields *fields, enum field_role role,
                           const char *column, struct field *field)
{
    const struct schema *schema = schema_of(fields, role, column);

    if (!schema || !role_unit(role, schema->unit, field))
        return false;
    field->zero_unknown = schema->zero_unknown;
    return true;
}

/* Says which column was perhaps meant, and which there are. `spec` may end in a unit. */
static enum outlay_status fail_no_column(const struct fields *fields,
                                         enum field_role role, const char *spec,
                                         struct outlay_error *err)
{
    const char *colon = strrchr(spec, ':');
    struct text name = TEXT_INIT, list = TEXT_INIT;
    struct nearest nearest, whole = nearest_start(spec);
    const char *meant;

    text_append(&name, spec, colon ? (size_t)(colon - spec) : strlen(spec));
    nearest = nearest_start(name.data ? name.data : "");
    for (size_t i = 0; i < fields->column_count; i++) {
        nearest_try(&nearest, fields->columns[i]);
        nearest_try(&whole, fields->columns[i]);
        if (list.length < 110)
            text_printf(&list, "%s%s", i ? ", " : "", fields->columns[i]);
    }
    meant = nearest.best ? nearest.best : whole.best;
    outlay_fail(err, OUTLAY_E_USAGE, "--%s%s%s%.80s: there is no such column",
                role == ROLE_GROUP ? "" : "field ", field_role_name(role),
                role == ROLE_GROUP ? " " : "=", spec);
    outlay_fail_todo(err, "%s%.40s%sthe columns are: %.130s",
                     meant ? "did you mean " : "", meant ? meant : "", meant ? "? " : "",
                     list.length ? list.data : "none");
    text_release(&name);
    text_release(&list);
    return OUTLAY_E_USAGE;
}

static enum outlay_status fail_no_unit(enum field_role role, const char *column,
                                       struct outlay_error *err)
{
    const char *name = field_role_name(role);

    outlay_fail(err, OUTLAY_E_USAGE, "column \"%.80s\" gives the %s in no stated unit",
                column, name);
    outlay_fail_todo(err,
                     "say it with --field %s=%.50s:%s, or leave it out with "
                     "--field %s=",
                     name, column, role == ROLE_HEIGHT ? "ft|m" : role_units(role), name);
    return OUTLAY_E_USAGE;
}

static enum outlay_status fail_unknown_unit(enum field_role role, const char *spec,
                                            const char *unit, struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_USAGE, "--field %s=%.80s: no unit \"%.30s\" for the %s",
                field_role_name(role), spec, unit, field_role_name(role));
    if (role_units(role)[0])
        outlay_fail_todo(err, "use one of %s", role_units(role));
    else
        outlay_fail_todo(err, "leave the unit away");
    return OUTLAY_E_USAGE;
}

/* "column" or "column:unit"; a column may itself hold colons (building:levels), so the
 * whole text is tried first. */
static enum outlay_status resolve_told(struct fields *fields, enum field_role role,
                                       bool complete, struct outlay_error *err)
{
    const char *spec = fields->specs[role];
    const char *colon = strrchr(spec, ':');
    struct field *field = &fields->roles[role];
    struct field unit = *field;
    int column = find_column(fields, spec, strlen(spec));
    bool has_unit = false;

    if (column < 0 && colon) {
        column = find_column(fields, spec, (size_t)(colon - spec));
        has_unit = column >= 0;
    }
    if (column < 0) {
        if (!complete)
            return OUTLAY_OK;
        return fail_no_column(fields, role, spec, err);
    }
    unit.given = true;
    unit.column = column;
    if (has_unit) {
        if (!role_unit(role, colon + 1, &unit))
            return fail_unknown_unit(role, spec, colon + 1, err);
    } else if (!unit_of_suffix(role, fields->columns[column], &unit) &&
               !unit_of_schema(fields, role, fields->columns[column], &unit) &&
               role_needs_unit(role)) {
        return fail_no_unit(role, fields->columns[column], err);
    }
    *field = unit;
    return OUTLAY_OK;
}

/*
 * A column named just `building` is trusted only where the layer was plainly made for
 * this tool: it has at least two of the columns that nobody else's has (roles.c), and
 * none of OpenStreetMap's.
 */
static bool trust_building(const struct fields *fields)
{
    return count_columns(fields, osm_columns()) == 0 &&
           count_columns(fields, own_columns()) >= 2;
}

static bool find_by_name(const struct fields *fields, enum field_role role,
                         struct field *field)
{
    const char *const *names = role_common_names(role);

    for (size_t i = 0; i < ROLE_NAMES_MAX && names[i]; i++) {
        for (size_t j = 0; j < fields->column_count; j++) {
            const char *column = fields->columns[j];

            if (match_with_unit(role, names[i], column, field) ||
                (!role_needs_unit(role) && same_column(names[i], column))) {
                field->column = (int)j;
                return true;
            }
        }
    }
    if (role == ROLE_BUILDING && trust_building(fields))
        field->column = find_column(fields, "building", strlen("building"));
    return field->column >= 0;
}

static bool find_by_schema(const struct fields *fields, enum field_role role,
                           struct field *field)
{
    for (size_t j = 0; j < fields->column_count; j++) {
        if (unit_of_schema(fields, role, fields->columns[j], field)) {
            field->column = (int)j;
            return true;
        }
    }
    return false;
}

static enum outlay_status resolve_found(struct fields *fields, enum field_role role,
                                        struct outlay_error *err)
{
    const char *const *names = role_common_names(role);
    struct field *field = &fields->roles[role];

    if (find_by_name(fields, role, field) || find_by_schema(fields, role, field) ||
        !role_needs_unit(role))
        return OUTLAY_OK;
    for (size_t i = 0; i < ROLE_NAMES_MAX && names[i]; i++) {
        int column = find_column(fields, names[i], strlen(names[i]));

        if (column >= 0)
            return fail_no_unit(role, fields->columns[column], err);
    }
    return OUTLAY_OK;
}

/* Rebuilds the list of what is used, keeping the counts. */
static void list_use(struct fields *fields)
{
    size_t filled[FIELD_ROLES] = {0};

    for (size_t i = 0; i < fields->use_count; i++)
        filled[fields->use[i].role] = fields->use[i].filled;
    fields->use_count = 0;
    for (int role = 0; role < FIELD_ROLES; role++) {
        struct field *field = &fields->roles[role];

        if (field->column < 0)
            continue;
        field->use = fields->use_count++;
        fields->use[field->use] = (struct field_use){
            .role = (enum field_role)role,
            .column = fields->columns[field->column],
            .unit = field->unit,
            .given = field->given,
            .filled = filled[role],
        };
    }
}

enum outlay_status fields_resolve(struct fields *fields, bool complete,
                                  struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    for (int i = 0; i < FIELD_ROLES && status == OUTLAY_OK; i++) {
        enum field_role role = (enum field_role)i;
        const char *spec = fields->specs[role];

        if (fields->roles[role].column >= 0)
            continue;
        if (!spec)
            status = resolve_found(fields, role, err);
        else if (spec[0])
            status = resolve_told(fields, role, complete, err);
    }
    list_use(fields);
    fields->unread_building = !fields->specs[ROLE_BUILDING] &&
                              fields->roles[ROLE_BUILDING].column < 0 &&
                              has_column(fields, "building");
    return status;
}

void fields_filled(struct fields *fields, enum field_role role)
{
    fields->use[fields->roles[role].use].filled++;
}

void fields_describe(const struct fields *fields, struct text *out)
{
    if (fields->unread_building)
        text_puts(out,
                  "note: column \"building\" isn't taken as the role building, since "
                  "it may hold a class; --field building=building takes it\n");
}
